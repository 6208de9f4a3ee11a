// Every word that the page itself says; what the server says comes with its answers.

export const hint = {
  none: "Put MP4 or MOV clips of swings into this folder; they appear here by themselves.",
  today: "Choose today’s rep on the left.",
  reference: "Now choose the rep to compare it with.",
  waiting: "Your clips are being read. The first one that is ready can be put on the desk.",
  loading: "Putting the two together…",
};

export const chosen = { today: "Today", reference: "Compare", add: "Add or remove as a rep to compare with" };
export const chooseToday = (name) => `${name} as today’s rep`;
export const chooseReference = (name) => `${name} as a rep to compare with`;
export const place = (name) => `Put ${name} on the desk`;

export const state = { doubtful: "Doubtful", waiting: "Not read yet", reading: "Being read…", not_read: "Not read" };
export const bats = { left: "bats left", right: "bats right" };
export const rating = { none: "Mark good", good: "Good", best: "Best" };
// What is read out begins with what is seen (WCAG 2.2, 2.5.3).
export const rated = (name, now) => `${rating[now ?? "none"]}: ${name}${now ? "; change" : ""}`;
export const fps = (hz) => `${Math.round(hz)} fps`;

export const reading = (name, stage, share) => `Reading ${name}: ${stage}${share === null ? "" : ` ${share} %`}`;
export const readingStop = "Stop reading";
export const readingGo = "Read the rest";
export const readingLeft = (n) => (n === 1 ? "1 clip is not read yet" : `${n} clips are not read yet`);

export const layouts = { "side-by-side": "Side by side", "over-under": "Over and under", ghost: "Ghost" };
export const ghostWork = (stage, share) => `Ghost, the first time: ${stage} ${share} %`;
export const noGhost = (why) => `No ghost: ${why}`;
export const lineUp = {
  plant: "on plant",
  contact: "on contact",
  load: "on load",
  hands_start: "on hands start",
  phases: "on every event",
};
export const speed = (slow) => (slow === 1 ? "real time" : `${slow}× slower`);
export const play = "Play";
export const pause = "Pause";

export const moment = (label, ms, picture, of) => `${label} ${signed(ms)} ms, frame ${picture + 1} of ${of}`;
export const signed = (ms) => (Math.round(ms) < 0 ? `−${-Math.round(ms)}` : `${Math.round(ms)}`);
export const clock = (ms) => `${signed(ms)} ms`;
export const plusMinus = (s) => `± ${Math.max(1, Math.round(1000 * s))} ms`;
export const source = {
  motion: "found from motion",
  motion_and_sound: "heard",
  motion_and_ball: "seen by the ball",
  pinned: "set by you",
};
export const inHand = (event, label, ms) =>
  `${event.name}, ${label}: ${signed(ms)} ms${event.source === "pinned" ? "" : ` ${plusMinus(event.plus_minus_s)}`}, ${source[event.source]}`;
export const peg = (event, label) => `${event.name}, ${label}`;
export const pegValue = (event, ms) =>
  `${signed(ms)} milliseconds${event.source === "pinned" ? "" : `, plus or minus ${Math.max(1, Math.round(1000 * event.plus_minus_s))}`}, ${source[event.source]}`;
export const notFound = (name) => `${name} (not found)`;
export const asFound = "All as found";
export const asFoundOf = (label) => `${label}: all as found, take back all that was set by hand`;
export const sideOf = (label) => `${label}: side of the plate`;

export const lengths = { height: "Standing height,", length: "Its length,", cm: "cm", feet: "feet", inches: "inches" };
export const mark = {
  open: "Picture…",
  openOf: (label) => `Picture… of ${label}, to show something in it`,
  kinds: { points: "Move a point", length: "Length and height", hitter: "Who bats" },
  end: ["One end", "Other end"],
  hitter: "The hitter",
  role: "movable point",
  place: (name, at, set) => `${name}: ${Math.round(at.x)} across, ${Math.round(at.y)} down${set ? ", set by you" : ""}`,
  frame: (index, of) => `Frame ${index + 1} of ${of}`,
  help: {
    points: "Drag a point to where you see it; the frames around follow. Arrow keys move it by a pixel, with Shift by ten; Delete takes it back; Page Up and Page Down change the frame.",
    length: "Drag the two ends onto something next to the hitter and square to the camera, such as home plate: 43.2 cm, 17 in, from its front edge to its point.",
    hitter: "Click the one who bats. The clip is then read again.",
  },
  notFollowed: "The hitter was not followed in this frame.",
};

export const findings = { changed: "What changed", stayed: "Stayed the same", open: "Can’t tell", notes: "Good to know" };
export const was = "was";
export const ranged = ([all, counted]) => (counted ? `Today against the range of ${counted} good reps.` : `${all} reps to compare with; the middle one is shown.`);

export const plans = { teach: "Teach: slow, with rests", quick: "Quick: 8 seconds", "before-after": "Reference, today, both" };
export const screens = { phone: "a phone", tablet: "a tablet" };
export const limits = { "": "none", 25: "25 MB", 16: "16 MB", 8: "8 MB" };
export const making = (stage, share) => `${stage[0].toUpperCase()}${stage.slice(1)}… ${share} %`;
export const made = (name) => `Made: ${name}.`;
export const watch = (name) => `Play ${name}`;
export const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;
export const askFirst = "Ask the athlete before you share it; for a minor, a parent or guardian too.";

export const voice = {
  record: "Record",
  stop: "Stop recording",
  recording: (seconds) => `Recording… ${Math.floor(seconds)} s`,
  has: (seconds) => `Your voice, ${Math.max(1, Math.round(seconds))} s, will be heard over the video.`,
  cannot: "This browser can’t record; choose a file instead.",
  noMicrophone: "The microphone can’t be used; allow it in the browser, or choose a file.",
};
export const share = {
  begin: "Open on a phone",
  stop: "Stop sharing",
  address: "On a phone on the same Wi-Fi, open:",
  caution: "Anyone on your Wi-Fi who has the address can open it; for a minor, ask a parent or guardian first.",
};

export const swings = {
  open: "Its swings…",
  openOf: (name) => `Its swings…: those in ${name}`,
  title: (name) => `Swings in ${name}`,
  help: "This clip is long. Each swing in it can become a clip of its own; finding them takes about as long as reading it.",
  searching: (stage, share) => (stage ? `${stage[0].toUpperCase()}${stage.slice(1)}…${share === null ? "" : ` ${share} %`}` : "Looking for swings…"),
  found: (n) => (n === 0 ? "No swing was found." : n === 1 ? "1 swing was found." : `${n} swings were found.`),
  at: (s) => `${Math.floor(s / 60)}:${String(Math.floor(s % 60)).padStart(2, "0")}`,
  take: "Take",
  takeOf: (name) => `Take ${name} among your clips`,
  strike: "Leave out",
  strikeOf: (name) => `Leave out ${name}`,
  back: "Put back",
  backOf: (name) => `Put back ${name}`,
  taken: "Among your clips",
};
export const lesson = {
  title: "Lesson",
  notMade: "Pages appear here once swingpair lesson has made them.",
  good: "Good reps",
  notReady: (name, state) => `${name}: ${state}`,
  day: (name, reps) => `${name}, ${reps === 1 ? "1 rep" : `${reps} reps`}`,
  pageOf: (name) => `${name}, page`,
  madeOf: (hitter, day, what) => `${what}: ${hitter}, ${day}`,
};

export const undone = "Undo";
export const gone = "The desk no longer answers. Start it again with swingpair desk, and open the new address.";

export const keys = [
  ["← →", "One frame back or forward; on an event’s mark: move the event by one frame"],
  ["Shift ← →", "From event to event"],
  ["Space", "Play or pause"],
  ["1 2", "Step by today’s frames, or by the reference’s"],
  ["Tab", "To the next mark, button or rep"],
  ["Delete", "On an event’s mark: back to where it was found"],
  ["Ctrl Z, Ctrl Shift Z", "Undo, redo"],
  ["Wheel, drag", "Scrub over the pictures or the time line"],
];

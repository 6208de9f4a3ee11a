// Puts the desk together: what is heard, the keys, and the controls that belong to no part.

import { call, get, listen } from "./api.js";
import { at, el, options } from "./build.js";
import * as make from "./make.js";
import * as lesson from "./lesson.js";
import * as mark from "./mark.js";
import * as p from "./pair.js";
import * as reps from "./reps.js";
import * as timeline from "./timeline.js";
import * as swings from "./swings.js";
import * as findings from "./findings.js";
import { units } from "./units.js";
import * as view from "./view.js";
import * as words from "./words.js";

const { pair } = p;
let reading = { stopped: false, now: null };

function background(text) {
  const left = reps.clips.filter((c) => c.state === "waiting" || c.state === "reading").length;
  const toggle = at("reading-switch");
  toggle.hidden = left === 0;
  toggle.textContent = reading.stopped ? words.readingGo : words.readingStop;
  at("background").textContent = left === 0 ? "" : text ?? words.readingLeft(left);
}

let refreshing = null;
/** Look at everything anew; what is heard meanwhile makes one more round. */
async function refresh() {
  if (refreshing) {
    refreshing = "again";
    return;
  }
  refreshing = "once";
  const state = await get("/state");
  if (state) {
    reading = state.reading;
    units.now = state.units;
    at("folder").textContent = state.folder;
    reps.setClips(state.clips);
    view.tellHint(state.clips.filter((c) => c.picture !== null).length);
    depth(state.history);
    make.setVideos(state.videos, state.making, state.can_share, state.share);
    background();
    await lesson.refresh();
  }
  const again = refreshing === "again";
  refreshing = null;
  if (again) refresh();
}

function depth({ undo, redo }) {
  at("undo").disabled = undo === 0;
  at("redo").disabled = redo === 0;
}

async function step(which) {
  const answer = await call("POST", `/${which}`);
  if (answer) depth(answer.history);
  await p.load();
}

const share = (what) => (what.of ? Math.floor((100 * what.done) / what.of) : null);

function layouts() {
  const names = Object.keys(words.layouts);
  at("layouts").replaceChildren(
    ...names.map((name) =>
      el("button", {
        type: "button", role: "radio", "data-layout": name, "aria-checked": String(pair.layout === name),
        tabindex: pair.layout === name ? "0" : "-1",
        disabled: name === "ghost" && Boolean(pair.data?.no_ghost),
        onclick: () => setLayout(name),
      }, words.layouts[name]),
    ),
  );
  at("ghost-box").hidden = pair.layout !== "ghost";
  // A left-handed hitter beside a right-handed one.
  at("mirror").hidden = !pair.data?.can_mirror;
  at("mirror").setAttribute("aria-pressed", String(pair.mirror));
}

function setLayout(name) {
  pair.layout = name;
  layouts();
  view.draw();
}

/** Radio buttons are one stop of the Tab key; arrows go between them. */
function layoutKeys(event) {
  const by = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
  if (!by) return;
  const all = [...at("layouts").children].filter((b) => !b.disabled);
  const next = all[(all.findIndex((b) => b.dataset.layout === pair.layout) + by + all.length) % all.length];
  setLayout(next.dataset.layout);
  at("layouts").querySelector(`[data-layout="${next.dataset.layout}"]`).focus();
  event.preventDefault();
  event.stopPropagation();
}

function keyed(event) {
  if (document.querySelector("dialog[open]")) return;
  const typing = event.target.closest("input, select, textarea, video, summary");
  const control = event.ctrlKey || event.metaKey;
  if (control && event.key.toLowerCase() === "z" && event.target.tagName !== "INPUT") {
    const button = event.shiftKey ? at("redo") : at("undo");
    if (!button.disabled) button.click();
    event.preventDefault();
    return;
  }
  if (typing || control || event.altKey || !pair.data) return;
  const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (by) {
    view.stop();
    if (event.shiftKey) p.nextEvent(by);
    else p.step(by);
  } else if (event.key === " " && !event.target.closest("button")) view.playOrPause();
  else if (event.key === "1" || event.key === "2") p.setLead(Number(event.key) - 1);
  else return;
  event.preventDefault();
}

function start() {
  options(at("slow"), [1, 2, 4, 8, 16].map((n) => [String(n), words.speed(n)]), "8");
  options(at("sync"), Object.entries(words.lineUp), "plant");
  at("sync").addEventListener("change", () => {
    pair.sync = at("sync").value;
    p.load();
  });
  at("ghost").addEventListener("input", () => {
    pair.ghost = Number(at("ghost").value) / 100;
    view.draw();
  });
  at("whole").addEventListener("click", () => {
    pair.whole = !pair.whole;
    at("whole").setAttribute("aria-pressed", String(pair.whole));
    view.draw();
  });
  at("mirror").addEventListener("click", () => {
    pair.mirror = !pair.mirror;
    p.load();
  });
  at("layouts").addEventListener("keydown", layoutKeys);
  at("undo").addEventListener("click", () => step("undo"));
  at("redo").addEventListener("click", () => step("redo"));
  at("reading-switch").addEventListener("click", () => call("PUT", "/reading", { stopped: !reading.stopped }));
  at("keys-list").replaceChildren(...words.keys.flatMap(([key, what]) => [el("dt", {}, key), el("dd", {}, what)]));
  at("keys-open").addEventListener("click", () => at("keys").showModal());
  at("keys-close").addEventListener("click", () => at("keys").close());
  document.addEventListener("keydown", keyed);
  p.onPair(layouts);
  // The secret has become a cookie: it need not stand in the address line, nor in the history.
  p.recall();
  history.replaceState(null, "", `/${location.hash}`);
  view.start();
  timeline.start();
  findings.start();
  make.start();
  mark.start();
  swings.start();
  lesson.start();
  listen({
    clips: refresh,
    reading: (what) => {
      const now = reps.clip(reading.now);
      if (now) background(words.reading(now.name, what.stage, share(what)));
    },
    ghost: (what) => (at("background").textContent = share(what) === 100 ? "" : words.ghostWork(what.stage, share(what) ?? 0)),
    making: make.heard,
    finding: swings.heard,
  });
  p.load();
}

start();

// The pictures of the present moment, and playing.

import { pictureUrl, whyNot } from "./api.js";
import { at } from "./build.js";
import * as p from "./pair.js";
import * as words from "./words.js";

const { pair } = p;
/** The address shown now, and the one to be shown when the one under way has come. */
let shown = null;
let wanted = null;
let busy = false;
/** How long the last picture took, ms; for the bench. */
export const took = { last: 0 };

function load(url) {
  const image = new Image();
  image.src = url;
  return image.decode().then(() => image);
}

async function show() {
  if (busy || !wanted || wanted === shown) return;
  busy = true;
  const url = wanted;
  const began = performance.now();
  try {
    await load(url);
    at("picture").src = url;
    await at("picture").decode();
    at("picture").hidden = false;
    shown = url;
    took.last = performance.now() - began;
    at("view").dataset.shown = `${pair.lead} ${pair.index}`;
  } catch {
    if (wanted === url) {
      wanted = null;
      whyNot(url);
    }
  }
  busy = false;
  if (wanted && wanted !== shown) show();
  else ahead();
}

/** The neighbors are fetched while nothing else is. */
let direction = 1;
async function ahead() {
  for (const by of [1, 2, -1].map((n) => n * direction)) {
    const index = pair.index + by;
    if (busy || !pair.data || index < 0 || index >= p.side(pair.lead).times_s.length) return;
    const before = wanted;
    await load(pictureUrl(pair, pair.lead, index)).catch(() => null);
    if (before !== wanted) return;
  }
}

let last = 0;
function moved() {
  if (!pair.data) return;
  direction = pair.index < last ? -1 : 1;
  last = pair.index;
  wanted = pictureUrl(pair, pair.lead, pair.index);
  show();
  const label = (i) => words.moment(p.side(i).label, p.fromZero(i, p.side(i).times_s[p.shown(i)]), p.shown(i), p.side(i).times_s.length);
  at("view").setAttribute("aria-label", `${label(0)}. ${label(1)}.`);
}

function changed() {
  const has = pair.data !== null;
  at("tools").hidden = !has;
  at("picture").hidden = !has || !shown;
  const hint = at("hint");
  hint.hidden = has;
  if (!has) {
    shown = wanted = null;
    stop();
    tellHint();
  }
}

let readable = 0;
/** What to do next, while two are not chosen. `count`: so many clips can be chosen. */
export function tellHint(count = readable) {
  readable = count;
  if (pair.data) return;
  const next = count === 0 ? words.hint.waiting : pair.today ? words.hint.reference : words.hint.today;
  at("hint").textContent = p.complete() ? words.hint.loading : next;
  at("view").setAttribute("aria-label", at("hint").textContent);
}

/** The size of the room, in the screen's own pixels. */
function measure() {
  const box = at("view").getBoundingClientRect();
  const scale = Math.min(window.devicePixelRatio || 1, 2);
  // In steps, so that a window that is drawn larger does not ask for each size on its way.
  const [width, height] = [box.width, box.height].map((v) => Math.max(16, Math.floor((v * scale) / 16) * 16));
  if (width === pair.width && height === pair.height) return;
  [pair.width, pair.height] = [width, height];
  moved();
}

let playing = null;
let slow = 8;

export function stop() {
  if (playing) cancelAnimationFrame(playing);
  playing = null;
  at("play").setAttribute("aria-pressed", "false");
  at("play").textContent = words.play;
}

export function playOrPause() {
  if (playing) return stop();
  if (!pair.data) return;
  const lead = pair.lead;
  const times = p.side(lead).times_s;
  const events = p.side(lead).events;
  // The swing and a little around it; at its end, or outside of it, from its beginning again.
  const from = events.length ? events[0].time_s - 0.1 : times[0];
  const to = events.length ? Math.min(events[events.length - 1].time_s + 0.15, times[times.length - 1]) : times[times.length - 1];
  const here = times[pair.index];
  const start = here < from - 0.5 || here >= to - 0.02 ? from : here;
  const began = performance.now();
  const frame = () => {
    const t = start + (performance.now() - began) / 1000 / slow;
    if (t > to || pair.lead !== lead) return stop();
    // A picture that has not come yet is not run past.
    if (!busy) p.goToTime(lead, t);
    playing = requestAnimationFrame(frame);
  };
  at("play").setAttribute("aria-pressed", "true");
  at("play").textContent = words.pause;
  playing = requestAnimationFrame(frame);
}

/** So many px of wheel or drag are one picture. */
const STEP_PX = 14;

export function scrubWheel(element) {
  let gathered = 0;
  element.addEventListener("wheel", (event) => {
    if (!pair.data || event.ctrlKey) return;
    event.preventDefault();
    stop();
    const px = (event.deltaY + event.deltaX) * (event.deltaMode === 0 ? 1 : 40);
    gathered += px;
    const by = Math.trunc(gathered / (STEP_PX * 3));
    gathered -= by * STEP_PX * 3;
    if (by) p.step(by);
  }, { passive: false });
}

function scrubDrag(element) {
  let from = null;
  element.addEventListener("pointerdown", (event) => {
    if (!pair.data || event.button !== 0) return;
    stop();
    from = { x: event.clientX, index: pair.index };
    element.setPointerCapture(event.pointerId);
  });
  element.addEventListener("pointermove", (event) => {
    if (from) p.goTo(pair.lead, from.index + Math.round((event.clientX - from.x) / STEP_PX));
  });
  for (const end of ["pointerup", "pointercancel"]) element.addEventListener(end, () => (from = null));
}

export function start() {
  p.onPair(changed);
  p.onMoment(moved);
  new ResizeObserver(measure).observe(at("view"));
  scrubWheel(at("view"));
  scrubDrag(at("view"));
  at("back").addEventListener("click", () => (stop(), p.step(-1)));
  at("forward").addEventListener("click", () => (stop(), p.step(1)));
  at("play").addEventListener("click", playOrPause);
  at("slow").addEventListener("change", () => {
    slow = Number(at("slow").value);
    stop();
  });
  changed();
  measure();
}

export { moved as draw };

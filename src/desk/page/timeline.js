// The time line: a rail for each rep, its events as pegs with their ±, and the present moment. Pegs can be moved.

import { at, el, nearest, options, svg } from "./build.js";
import * as mark from "./mark.js";
import * as p from "./pair.js";
import { scrubWheel, stop } from "./view.js";
import * as words from "./words.js";

const { pair } = p;
/** Places in the drawing, px. */
const RAILS = [62, 96];
const HEIGHT = 158;
const TIERS = [[44, 29, 14], [120, 135, 150]];
const INSET = 18;
/** Time shown before the first and after the last event, s. */
const AROUND_S = 0.12;
/** A peg that was moved with keys is set when nothing more comes for so long, ms. */
const REST_MS = 450;

const LANES = ["today", "reference"];
let scale = { from: 0, to: 1, width: 600 };
/** A peg on its way: its side, event, and the picture it stands at now. */
let moving = null;
let inHand = null;
let timer = null;
/** Focus that a new drawing gives back is no choice of a person. */
let painting = false;

const x = (todayS) => INSET + ((todayS - scale.from) / (scale.to - scale.from)) * (scale.width - 2 * INSET);
const timeAt = (px) => scale.from + ((px - INSET) / (scale.width - 2 * INSET)) * (scale.to - scale.from);
const pictureAt = (side, px) => nearest(p.side(side).times_s, p.sideTime(side, timeAt(px)));
const timeOf = (side, event) => {
  const own = moving && moving.side === side && moving.event === event.event;
  return own ? p.side(side).times_s[moving.picture] : event.time_s;
};

function fit() {
  scale.width = Math.max(320, at("line").clientWidth);
  const times = [0, 1].flatMap((i) => p.side(i).events.map((e) => p.todayTime(i, e.time_s)));
  scale.from = Math.min(...times, p.zero() - 0.3) - AROUND_S;
  scale.to = Math.max(...times, p.zero() + 0.3) + AROUND_S;
}

/** Labels that would lie over one another stand in rows. */
function tiers(side, pegs) {
  const ends = TIERS[side].map(() => -Infinity);
  return pegs.map(({ at: px, event }) => {
    const half = (event.short.length * 6.6 + 10) / 2;
    const middle = Math.max(half, Math.min(scale.width - half, px));
    let tier = ends.findIndex((end) => middle - half > end);
    if (tier < 0) tier = ends.indexOf(Math.min(...ends));
    ends[tier] = middle + half;
    return { middle, y: TIERS[side][tier] };
  });
}

function peg(side, event, px, label) {
  const y = RAILS[side];
  const t = timeOf(side, event);
  const here = inHand && inHand.side === side && inHand.event === event.event;
  const set = event.source === "pinned";
  const wing = set ? 0 : Math.max(0, x(p.todayTime(side, t + event.plus_minus_s)) - px);
  const labelEnd = side === 0 ? label.y + 4 : label.y - 11;
  const mark = set
    ? svg("rect", { class: "mark", x: px - 6, y: y - 6, width: 12, height: 12, transform: `rotate(45 ${px} ${y})` })
    : svg("circle", { class: "mark", cx: px, cy: y, r: 6.5 });
  const element = svg(
    "g",
    {
      class: `peg ${LANES[side]} ${set ? "set" : ""} ${here ? "here" : ""}`,
      tabindex: "0",
      role: "slider",
      "data-event": event.event,
      "data-side": side,
      "aria-label": words.peg(event, p.side(side).label),
      "aria-valuenow": pictureOf(side, event),
      "aria-valuemin": "0",
      "aria-valuemax": p.side(side).times_s.length - 1,
      "aria-valuetext": words.pegValue(event, p.fromZero(side, t)),
    },
    svg("rect", { class: "hit", x: px - 13, y: side === 0 ? 4 : y - 15, width: 26, height: side === 0 ? y + 11 : HEIGHT - y + 11 }),
    wing > 0 ? svg("rect", { class: "wing", x: px - wing, y: y - 4, width: 2 * wing, height: 8, rx: 4 }) : null,
    svg("path", { class: "stem", d: `M${px} ${side === 0 ? y - 7 : y + 7}V${side === 0 ? Math.min(y - 9, labelEnd + 6) : Math.max(y + 9, labelEnd - 6)}L${label.middle} ${labelEnd}` }),
    svg("text", { class: "word", x: label.middle, y: label.y, "text-anchor": "middle" }, event.short),
    mark,
  );
  element.addEventListener("focus", () => take(side, event.event));
  element.addEventListener("keydown", (key) => keyed(key, side, event));
  element.addEventListener("pointerdown", (down) => dragged(down, side, event));
  return element;
}

const pictureOf = (side, event) =>
  moving && moving.side === side && moving.event === event.event ? moving.picture : event.picture;

function paint() {
  const line = at("line");
  if (!pair.data) return;
  fit();
  const focused = document.activeElement?.closest?.(".peg");
  const key = focused && [focused.dataset.side, focused.dataset.event];
  line.setAttribute("viewBox", `0 0 ${scale.width} ${HEIGHT}`);
  const zero = x(p.zero());
  const parts = [svg("path", { class: "zero", d: `M${zero} ${RAILS[0] - 14}V${RAILS[1] + 14}` })];
  for (const side of [0, 1]) {
    const lead = side === pair.lead ? "lead" : "";
    parts.push(svg("path", { class: `rail ${lead}`, d: `M${INSET} ${RAILS[side]}H${scale.width - INSET}` }));
    parts.push(svg("path", { class: `run ${LANES[side]} ${lead}`, "data-run": side, d: "" }));
  }
  const pegs = [];
  for (const side of [0, 1]) {
    const placed = p.side(side).events.map((event) => ({ event, at: x(p.todayTime(side, timeOf(side, event))) }));
    placed.sort((a, b) => a.at - b.at);
    const labels = tiers(side, placed);
    placed.forEach(({ event, at: px }, i) => pegs.push(peg(side, event, px, labels[i])));
  }
  line.replaceChildren(...parts, svg("path", { id: "cursor", d: "" }), ...pegs);
  moveCursor();
  painting = true;
  if (key) line.querySelector(`.peg[data-side="${key[0]}"][data-event="${key[1]}"]`)?.focus({ preventScroll: true });
  painting = false;
}

function moveCursor() {
  if (!pair.data || !at("cursor")) return;
  const px = Math.max(INSET, Math.min(scale.width - INSET, x(p.now())));
  at("cursor").setAttribute("d", `M${px} ${RAILS[0] - 18}V${RAILS[1] + 18}`);
  for (const run of document.querySelectorAll("[data-run]")) {
    run.setAttribute("d", `M${INSET} ${RAILS[Number(run.dataset.run)]}H${px}`);
    run.classList.toggle("lead", Number(run.dataset.run) === pair.lead);
  }
  tellInHand();
}

/** This event is looked at. */
function take(side, event) {
  const found = p.side(side).events.find((e) => e.event === event);
  const before = inHand;
  inHand = { side, event };
  if (found && !painting && !(moving && moving.event === event)) p.goTo(side, found.picture);
  if (!before || before.side !== side || before.event !== event) {
    for (const other of document.querySelectorAll(".peg")) {
      other.classList.toggle("here", other.dataset.event === event && Number(other.dataset.side) === side);
    }
    listEvents();
  }
  tellInHand();
}

function tellInHand() {
  const side = inHand?.side ?? pair.lead;
  const event = pair.data && p.side(side).events.find((e) => e.event === (inHand?.event ?? at("event").value));
  at("in-hand").textContent = event ? words.inHand(event, p.side(side).label, p.fromZero(side, timeOf(side, event))) : "";
  const chosen = pair.data && p.side(pair.lead).events.find((e) => e.event === at("event").value);
  at("take-back").disabled = chosen?.source !== "pinned";
}

function listEvents() {
  const { events, missing } = p.side(pair.lead);
  const value = inHand?.side === pair.lead ? inHand.event : at("event").value || "plant";
  options(at("event"), [...events.map((e) => [e.event, e.name]), ...missing.map((e) => [e.event, words.notFound(e.name)])], value);
}

/** Move a peg; the pictures follow at once, the reading when it rests. */
function move(side, event, picture) {
  const last = p.side(side).times_s.length - 1;
  moving = { side, event, picture: Math.max(0, Math.min(last, picture)) };
  inHand = { side, event };
  p.goTo(side, moving.picture);
  paint();
}

async function settle() {
  clearTimeout(timer);
  const done = moving;
  if (!done) return;
  await p.set(done.side, "PUT", `/events/${done.event}`, { picture: done.picture });
  if (moving === done) moving = null;
  paint();
  document.dispatchEvent(new CustomEvent("settled"));
}

async function takeBack(side, event) {
  moving = null;
  clearTimeout(timer);
  await p.set(side, "DELETE", `/events/${event}`);
}

function keyed(key, side, event) {
  const by = { ArrowLeft: -1, ArrowRight: 1 }[key.key];
  if (by && !key.shiftKey && !key.ctrlKey && !key.altKey) {
    stop();
    move(side, event.event, pictureOf(side, event) + by);
    clearTimeout(timer);
    timer = setTimeout(settle, REST_MS);
  } else if (by && key.shiftKey) {
    const next = p.nextEvent(by);
    if (next) at("line").querySelector(`.peg[data-side="${side}"][data-event="${next.event}"]`)?.focus();
  } else if (key.key === "Delete" || key.key === "Backspace") takeBack(side, event.event);
  else if (key.key === "Escape" && moving) {
    clearTimeout(timer);
    moving = null;
    p.goTo(side, event.picture);
    paint();
  } else if (key.key === "Enter") settle();
  else return;
  key.preventDefault();
  key.stopPropagation();
}

function dragged(down, side, event) {
  if (down.button !== 0) return;
  down.preventDefault();
  down.stopPropagation();
  stop();
  const line = at("line");
  down.currentTarget.focus({ preventScroll: true });
  line.setPointerCapture(down.pointerId);
  const box = line.getBoundingClientRect();
  const offset = down.clientX - box.left - x(p.todayTime(side, timeOf(side, event)));
  let began = false;
  const moved = (e) => {
    // A click is no drag.
    if (!began && Math.abs(e.clientX - down.clientX) < 4) return;
    began = true;
    const picture = pictureAt(side, e.clientX - box.left - offset);
    if (pictureOf(side, event) !== picture) move(side, event.event, picture);
  };
  const ended = (e) => {
    line.removeEventListener("pointermove", moved);
    line.removeEventListener("pointerup", ended);
    line.removeEventListener("pointercancel", ended);
    if (e.type === "pointercancel") moving = null;
    if (began && moving) settle();
    else paint();
  };
  line.addEventListener("pointermove", moved);
  line.addEventListener("pointerup", ended);
  line.addEventListener("pointercancel", ended);
}

function scrub(element) {
  let side = null;
  const go = (e) => {
    const box = element.getBoundingClientRect();
    p.goTo(side, pictureAt(side, e.clientX - box.left));
  };
  element.addEventListener("pointerdown", (e) => {
    if (!pair.data || e.button !== 0) return;
    stop();
    const y = e.clientY - element.getBoundingClientRect().top;
    side = y < (RAILS[0] + RAILS[1]) / 2 ? 0 : 1;
    element.setPointerCapture(e.pointerId);
    go(e);
  });
  element.addEventListener("pointermove", (e) => side !== null && go(e));
  for (const end of ["pointerup", "pointercancel"]) element.addEventListener(end, () => (side = null));
}

/** Who is who, on which side of the plate, and the way back. */
function paintSides() {
  const cell = (i) => {
    const s = p.side(i);
    const bats = el("select", { "aria-label": words.sideOf(s.label), onchange: () => p.set(i, "PUT", "/bats", { side: bats.value }) });
    options(bats, Object.entries(words.bats), s.hitter.bats);
    return el(
      "div",
      { class: `side ${LANES[i]} ${i === pair.lead ? "lead" : ""}` },
      el("button", { type: "button", class: "lead-switch", "aria-pressed": String(i === pair.lead), onclick: () => (p.setLead(i), paintSides()) }, el("span", { class: "badge", "aria-hidden": "true" }), s.label),
      el("span", { class: "file" }, `${s.name} · ${words.fps(s.rate_hz)}`),
      bats,
      el("button", { type: "button", class: "on-picture", "aria-label": words.mark.openOf(s.label), onclick: () => mark.open(i) }, words.mark.open),
      el("b", { class: "clock", "data-clock": i }),
      s.set ? el("button", { type: "button", class: "quiet as-found", title: words.asFound, "aria-label": words.asFoundOf(s.label), onclick: () => p.set(i, "DELETE", "/marks") }, back()) : null,
    );
  };
  at("sides").replaceChildren(cell(0), cell(1));
  clocks();
}

/** An arrow that turns back. */
const back = () =>
  svg("svg", { viewBox: "0 0 16 16", width: 18, height: 18, "aria-hidden": "true" }, svg("path", { d: "M3 2v4h4M3 6a6 6 0 1 1-.8 4", fill: "none", stroke: "currentColor", "stroke-width": 2, "stroke-linecap": "round", "stroke-linejoin": "round" }));

function clocks() {
  for (const clock of document.querySelectorAll("[data-clock]")) {
    const i = Number(clock.dataset.clock);
    clock.textContent = words.clock(p.fromZero(i, p.side(i).times_s[p.shown(i)]));
  }
}

let leadBefore = 0;
function moment() {
  moveCursor();
  clocks();
  if (leadBefore !== pair.lead) {
    leadBefore = pair.lead;
    listEvents();
    paintSides();
  }
}

function changed() {
  at("time").hidden = at("sides").hidden = pair.data === null;
  if (!pair.data) return;
  // A peg that is moved on meanwhile stays in hand.
  paintSides();
  paint();
  listEvents();
  tellInHand();
}

export function start() {
  p.onPair(changed);
  p.onMoment(moment);
  scrub(at("line"));
  scrubWheel(at("line"));
  new ResizeObserver(() => pair.data && paint()).observe(at("line"));
  at("set-here").addEventListener("click", () => {
    stop();
    inHand = { side: pair.lead, event: at("event").value };
    p.set(pair.lead, "PUT", `/events/${at("event").value}`, { picture: pair.index });
  });
  at("take-back").addEventListener("click", () => takeBack(pair.lead, at("event").value));
  at("event").addEventListener("change", () => {
    inHand = null;
    take(pair.lead, at("event").value);
  });
}

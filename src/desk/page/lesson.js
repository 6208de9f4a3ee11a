// The lesson of the folder: its hitters and days, with their reps and what was made of them.

import { get } from "./api.js";
import { at, el } from "./build.js";
import * as p from "./pair.js";
import * as reps from "./reps.js";
import * as words from "./words.js";

let lesson = null;

const link = (address, text, label) => el("a", { href: address, target: "_blank", rel: "noopener", "aria-label": label }, text);

/** A rep's name, which puts it on the desk. */
function rep(id) {
  const c = reps.clip(id);
  if (!c) return null;
  const ready = reps.readable(c);
  const text = ready ? reps.stem(c) : words.lesson.notReady(reps.stem(c), words.state[c.state]);
  return el("li", {}, el("button", { type: "button", "aria-label": ready ? words.place(reps.placed(c)) : null, "aria-pressed": String(reps.lies(id)), disabled: !ready, title: c.why, onclick: () => reps.put(id), "data-key": `lesson ${id}` }, text));
}

/** Reps to be unfolded. `of`: whose they are. */
const folded = (title, ids, of) =>
  ids.length ? el("details", { "data-of": of }, el("summary", {}, title), el("ul", { class: "lesson-reps" }, ...ids.map(rep))) : el("p", {}, title);

function day(hitter, d) {
  const made = d.made.flatMap((m) => [" · ", link(m.address, m.name, words.lesson.madeOf(hitter.name, d.name, m.name))]).slice(1);
  return el("li", {}, folded(words.lesson.day(d.name, d.reps), d.clips, `${hitter.name} ${d.name}`), ...(made.length ? [el("p", {}, ...made)] : []));
}

function person(h) {
  const good = h.good.length ? [el("li", {}, folded(words.lesson.good, h.good, `${h.name} good`))] : [];
  return el("li", {}, h.page ? link(h.page, h.name, words.lesson.pageOf(h.name)) : el("b", {}, h.name), el("ul", {}, ...good, ...h.days.map((d) => day(h, d))));
}

let shown = "";
/** Everything as it is now; what is unfolded stays so. */
function paint() {
  // Nothing after an error, which is shown; `null` where the folder holds no lesson.
  const has = lesson !== null && Boolean(lesson.hitters);
  const text = JSON.stringify([lesson, reps.clips.map((c) => [c.id, c.state, c.picture, reps.lies(c.id)])]);
  if (text === shown) return;
  shown = text;
  const box = at("lesson");
  box.hidden = !has;
  if (!has) return;
  const key = box.contains(document.activeElement) ? document.activeElement.dataset.key : null;
  const open = new Set([...box.querySelectorAll("details[open]")].map((d) => d.dataset.of));
  const all = lesson.hitters.some((h) => h.page);
  box.replaceChildren(
    el("h2", {}, lesson.title ?? words.lesson.title),
    ...(all ? [] : [el("p", {}, words.lesson.notMade)]),
    el("ul", {}, ...lesson.hitters.map(person)),
  );
  for (const d of box.querySelectorAll("details")) d.open = open.has(d.dataset.of);
  if (key) box.querySelector(`[data-key="${key}"]`)?.focus();
}

export async function refresh() {
  lesson = await get("/lesson");
  paint();
}

export function start() {
  p.onPair(paint);
}

// The lesson of the folder: its hitters and days, with what was made of them.

import { get } from "./api.js";
import { at, el } from "./build.js";
import * as words from "./words.js";

const link = (address, text, label) => el("a", { href: address, target: "_blank", rel: "noopener", "aria-label": label }, text);

function day(hitter, d) {
  const made = d.made.flatMap((m) => [" · ", link(m.address, m.name, words.lesson.madeOf(hitter.name, d.name, m.name))]);
  return el("li", {}, words.lesson.day(d.name, d.reps), ...made);
}

const person = (h) =>
  el("li", {}, h.page ? link(h.page, h.name, words.lesson.pageOf(h.name)) : el("b", {}, h.name), el("ul", {}, ...h.days.map((d) => day(h, d))));

let shown = "";
export async function refresh() {
  const lesson = await get("/lesson");
  const text = JSON.stringify(lesson);
  if (text === shown) return;
  shown = text;
  // Nothing after an error, which is shown; `null` where the folder holds no lesson.
  const has = lesson !== null && Boolean(lesson.hitters);
  at("lesson").hidden = !has;
  if (!has) return;
  const all = lesson.hitters.some((h) => h.page);
  at("lesson").replaceChildren(
    el("h2", {}, lesson.title ?? words.lesson.title),
    ...(all ? [] : [el("p", {}, words.lesson.notMade)]),
    el("ul", {}, ...lesson.hitters.map(person)),
  );
}

// What changed, what stayed, and what would settle the rest.

import { at, el } from "./build.js";
import * as p from "./pair.js";
import { stop } from "./view.js";
import * as words from "./words.js";

const { pair } = p;

function jump(difference) {
  stop();
  const event = p.side(0).events.find((e) => e.event === difference.event);
  if (event) p.goTo(0, event.picture);
}

const row = (d) =>
  el(
    "li",
    {},
    el(
      "button",
      { type: "button", class: "difference", "data-measure": d.measure, title: d.verdict, onclick: () => jump(d) },
      el("span", { class: "measure" }, d.name),
      el("span", { class: "amount" }, d.difference),
      el("span", { class: "values" }, el("span", { class: "today" }, d.today), ` ${words.was} `, el("span", { class: "reference" }, d.reference)),
    ),
  );

function part(title, differences, kind, open, extra) {
  if (!differences.length && !extra) return null;
  const list = el("ul", { class: `differences ${kind}` }, ...differences.map(row));
  const more = extra ? el("p", { class: "extra" }, extra) : null;
  const heading = `${title} (${differences.length})`;
  if (open) return el("section", {}, el("h3", {}, heading), more, list);
  const before = at("findings-text").querySelector(`details.${kind}`);
  return el("details", { class: kind, open: before?.open }, el("summary", {}, heading), more, list);
}

function paint() {
  at("findings").hidden = pair.data === null;
  if (!pair.data) return;
  const { findings, no_ghost } = pair.data;
  const notes = [findings.filmed, no_ghost && words.noGhost(no_ghost), ...findings.warnings, ...[0, 1].flatMap((i) => p.side(i).warnings.map((w) => `${p.side(i).label}: ${w}`))].filter(Boolean);
  const before = at("findings-text").querySelector("details.notes");
  const parts = [
    el("h2", { id: "headline" }, findings.headline),
    pair.data.good_reps ? el("p", { class: "extra" }, words.ranged(pair.data.good_reps)) : null,
    part(words.findings.changed, findings.changed, "changed", true, null),
    part(words.findings.stayed, findings.stayed, "stayed", false, null),
    part(words.findings.open, findings.open, "open", false, findings.settle),
    notes.length ? el("details", { class: "notes", open: before?.open }, el("summary", {}, `${words.findings.notes} (${notes.length})`), el("ul", {}, ...notes.map((n) => el("li", {}, n)))) : null,
  ];
  at("findings-text").replaceChildren(...parts.filter(Boolean));
}

export function start() {
  p.onPair(paint);
}

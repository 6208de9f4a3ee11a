// The reps of the folder, each as its picture at contact.

import { call, stillUrl } from "./api.js";
import { at, el } from "./build.js";
import { load, pair } from "./pair.js";
import { open as openSwings } from "./swings.js";
import * as words from "./words.js";

/** The server's list. */
export let clips = [];

export const clip = (id) => clips.find((c) => c.id === id);
/** One that is read anew keeps its picture meanwhile. */
export const readable = (c) => c.picture !== null && c.state !== "not_read";

function choose(change) {
  change();
  // Another two may bat from one side.
  pair.mirror = false;
  // One rep can't lie on both places.
  pair.references = pair.references.filter((id) => id !== pair.today);
  paint();
  load();
}

const asToday = (id) => choose(() => {
  if (pair.today === id) pair.today = null;
  else {
    // Today's and the only reference change places.
    if (pair.references.includes(id)) pair.references = pair.today ? [pair.today] : [];
    pair.today = id;
  }
});

const asReference = (id) => choose(() => {
  if (pair.references.includes(id)) pair.references = pair.references.filter((r) => r !== id);
  else {
    if (pair.today === id) pair.today = null;
    pair.references = [...pair.references, id];
  }
});

/** Whether it lies on the desk. */
export const lies = (id) => pair.today === id || pair.references.includes(id);

export const put = (id) => choose(() => {
  if (pair.today === null || pair.today === id) pair.today = id;
  else pair.references = [id];
});

async function rate(c) {
  const next = { none: "good", good: "best", best: null }[c.rating ?? "none"];
  await call("PUT", `/clips/${c.id}/rating`, { rating: next });
}

function facts(c) {
  return [c.folder, c.bats && words.bats[c.bats], c.rate_hz && words.fps(c.rate_hz)].filter(Boolean).join(" · ");
}

const date = (c) => new Date(c.modified_ms).toLocaleDateString(undefined, { month: "short", day: "numeric" });

/** The name without its ending; the second with the folder that it lies in. */
export const stem = (c) => c.name.replace(/\.[^.]+$/, "");
export const placed = (c) => (c.folder ? `${c.folder}/${stem(c)}` : stem(c));

function rep(c) {
  const name = placed(c);
  const ready = readable(c);
  const picture = ready
    ? el("img", { src: stillUrl(c, c.picture, 288), alt: "", draggable: "false", loading: "lazy" })
    : el("span", { class: "blank" }, words.state[c.state]);
  const button = (kind, text, label, pressed, run) =>
    el("button", { type: "button", class: kind, "aria-label": label, "aria-pressed": String(pressed), disabled: !ready, onclick: run, "data-key": `${kind} ${c.id}` }, text);
  const isToday = pair.today === c.id;
  const isReference = pair.references.includes(c.id);
  return el(
    "li",
    { class: `rep ${isToday ? "is-today" : ""} ${isReference ? "is-reference" : ""}` },
    el("button", { type: "button", class: "print", "aria-label": words.place(name), disabled: !ready, onclick: () => put(c.id), "data-key": `print ${c.id}` }, picture),
    el("p", { class: "name", title: c.name }, el("b", {}, stem(c)), el("span", {}, date(c))),
    el("p", { class: "facts" }, facts(c)),
    c.long ? el("button", { type: "button", class: "find", "aria-label": words.swings.openOf(name), onclick: () => openSwings(c.id), "data-key": `find ${c.id}` }, words.swings.open) : null,
    c.state === "doubtful" || c.state === "not_read"
      ? el("details", { class: `why ${c.state}` }, el("summary", {}, words.state[c.state]), el("p", {}, c.why ?? ""))
      : null,
    ready
      ? el("div", { class: "choose" },
          button("today", words.chosen.today, words.chooseToday(name), isToday, () => asToday(c.id)),
          button("reference", words.chosen.reference, words.chooseReference(name), isReference, () => asReference(c.id)),
          el("button", { type: "button", class: `rating ${c.rating ?? ""}`, "aria-label": words.rated(name, c.rating), onclick: () => rate(c), "data-key": `rating ${c.id}` }, words.rating[c.rating ?? "none"]))
      : null,
  );
}

function paint() {
  const list = at("rep-list");
  const key = document.activeElement?.dataset?.key;
  const open = new Set([...list.querySelectorAll("details[open]")].map((d) => d.parentElement.dataset.id));
  // Those of the lesson's other folders are chosen in the lesson; on the desk they are shown like all.
  list.replaceChildren(...clips.filter((c) => !c.folder || lies(c.id)).map((c) => {
    const item = rep(c);
    item.dataset.id = c.id;
    if (open.has(c.id)) item.querySelector("details")?.setAttribute("open", "");
    return item;
  }));
  if (key) list.querySelector(`[data-key="${key}"]`)?.focus();
  at("no-reps").hidden = clips.length > 0;
  at("no-reps").textContent = words.hint.none;
}

/** Show the list as it is now; what is gone or changed leaves the desk or is put together anew. */
export function setClips(list) {
  if (JSON.stringify(list) === JSON.stringify(clips) && at("rep-list").childElementCount) return;
  const before = new Map(clips.map((c) => [c.id, c.stamp]));
  clips = list;
  const there = (id) => clips.some((c) => c.id === id && readable(c));
  const wanted = [pair.today, ...pair.references];
  if (pair.today && !clip(pair.today)) pair.today = null;
  pair.references = pair.references.filter((id) => clip(id));
  paint();
  const changed = wanted.some((id) => id && clip(id)?.stamp !== before.get(id));
  if (changed && [pair.today, ...pair.references].every((id) => id === null || there(id))) load();
}

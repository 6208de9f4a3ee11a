// The swings of a long film, as a strip: each is taken among the clips or struck out.

import { call, get, stillUrl } from "./api.js";
import { at, el } from "./build.js";
import { clip } from "./reps.js";
import * as words from "./words.js";

/** The film that is looked at, and what the server says of it. */
let film = null;
let known = null;
/** What stopped the last search. */
let failed = "";

async function choose(swing, choice) {
  const answer = await call("PUT", `/clips/${film.id}/swings/${encodeURIComponent(swing.name)}`, { choice });
  if (answer) known = answer;
  paint();
}

function one(swing) {
  const name = swing.name.replace(/\.[^.]+$/, "");
  const button = (text, label, choice) =>
    el("button", { type: "button", "aria-label": label, "data-choice": `${choice} ${swing.name}`, onclick: () => choose(swing, choice) }, text);
  const buttons = {
    open: [button(words.swings.take, words.swings.takeOf(name), "taken"), button(words.swings.strike, words.swings.strikeOf(name), "struck_out")],
    struck_out: [button(words.swings.back, words.swings.backOf(name), "open")],
    taken: [el("span", {}, words.swings.taken)],
  }[swing.choice];
  return el(
    "li",
    { class: `swing ${swing.choice}` },
    el("img", { src: stillUrl(film, swing.picture, 288), alt: "", draggable: "false", loading: "lazy" }),
    el("p", {}, words.swings.at(swing.at_s)),
    el("div", { class: "group" }, ...buttons),
  );
}

function paint() {
  if (!film || !known) return;
  const key = document.activeElement?.dataset?.choice;
  at("swings-title").textContent = words.swings.title(film.name);
  at("swings-find").hidden = known.searching || known.swings !== null;
  at("swings-stop").hidden = !known.searching;
  at("swings-text").textContent = known.searching ? words.swings.searching("", null) : failed || (known.swings === null ? words.swings.help : words.swings.found(known.swings.length));
  at("swings-list").replaceChildren(...(known.swings ?? []).map(one));
  if (key && !document.activeElement?.dataset?.choice) at("swings-list").querySelector("button")?.focus();
}

export async function open(id) {
  film = clip(id);
  failed = "";
  known = await get(`/clips/${id}/swings`);
  if (!known) return;
  paint();
  at("swings").showModal();
}

/** How far a search is, or how it ended. */
export async function heard(what) {
  if (what.end) {
    failed = what.end === "failed" ? what.why : "";
    if (film && film.id === what.clip) {
      known = (await get(`/clips/${film.id}/swings`)) ?? known;
      paint();
    }
  } else if (known?.searching) at("swings-text").textContent = words.swings.searching(what.stage, what.of ? Math.floor((100 * what.done) / what.of) : null);
}

async function find() {
  failed = "";
  const begun = await call("POST", `/clips/${film.id}/swings`);
  if (!begun) return;
  known.searching = true;
  paint();
}

export function start() {
  at("swings-find").addEventListener("click", find);
  at("swings-stop").addEventListener("click", () => call("DELETE", "/swings"));
  at("swings-close").addEventListener("click", () => at("swings").close());
  at("swings").addEventListener("close", () => (film = known = null));
}

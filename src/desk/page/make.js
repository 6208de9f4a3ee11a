// Makes the video and plays what was made.

import { alertText, call, videoUrl } from "./api.js";
import { at, el, options } from "./build.js";
import * as p from "./pair.js";
import { stop } from "./view.js";
import * as voice from "./voice.js";
import * as words from "./words.js";

const { pair } = p;
let videos = [];
/** Whether a video can be given to a phone, which one is, and which one is looked at. */
let sharing = { can: false, now: null };
let played = null;

function playVideo(video) {
  stop();
  played = video;
  paintShare();
  at("player-title").textContent = video.name;
  at("player-video").src = videoUrl(video);
  at("player-save").href = videoUrl(video, true);
  at("player").showModal();
}

function paintShare() {
  const own = sharing.now !== null && sharing.now.video === played?.id;
  at("share").hidden = !sharing.can;
  at("share-button").textContent = own ? words.share.stop : words.share.begin;
  at("share-button").setAttribute("aria-pressed", String(own));
  at("share-text").textContent = own ? words.share.address : words.share.caution;
  at("share-address").textContent = own ? sharing.now.address : "";
}

async function share() {
  const own = sharing.now?.video === played.id;
  const answer = own ? await call("DELETE", "/share") : await call("POST", `/videos/${played.id}/share`);
  if (answer) sharing.now = own ? null : answer;
  paintShare();
}

function paint() {
  at("videos").replaceChildren(
    ...videos.map((v) =>
      el("li", {}, el("button", { type: "button", class: "made", "data-video": v.id, "aria-label": words.watch(v.name), onclick: () => playVideo(v) }, v.name), ` ${words.megabytes(v.bytes)}`),
    ),
  );
}

function busy(is) {
  at("make-button").hidden = is;
  at("making").hidden = !is;
}

/** What the server said when the page was opened. */
export function setVideos(list, making, can, shared) {
  videos = list;
  sharing = { can, now: shared };
  paintShare();
  busy(making);
  paint();
}

/** How far it is, or how it ended. */
export function heard(what) {
  if (what.end === "made") {
    busy(false);
    videos = [...videos.filter((v) => v.id !== what.video.id), what.video];
    at("making-text").textContent = [words.made(what.video.name), ...what.video.warnings, words.askFirst].join(" ");
    paint();
    playVideo(what.video);
  } else if (what.end === "failed") {
    busy(false);
    at("making-text").textContent = what.why;
  } else {
    busy(true);
    const share = Math.floor((100 * what.done) / Math.max(1, what.of));
    at("making-bar").value = share;
    at("making-text").textContent = words.making(what.stage, share);
  }
}

async function make(event) {
  event.preventDefault();
  if (!pair.data) return;
  alertText(null);
  stop();
  const wish = { layout: pair.layout, plan: at("plan").value, screen: at("screen").value };
  if (pair.layout === "ghost") wish.ghost_strength = pair.ghost;
  if (at("limit").value) wish.max_mb = Number(at("limit").value);
  const labels = [at("label-today").value.trim(), at("label-reference").value.trim()];
  if (labels.some(Boolean)) wish.labels = labels.map((text, i) => text || p.side(i).label);
  if (at("note").value.trim()) wish.note = at("note").value;
  if (voice.voiceId()) wish.voice = voice.voiceId();
  busy(true);
  at("making-bar").removeAttribute("value");
  at("making-text").textContent = "";
  const taken = await call("POST", `/pairs/${pair.today}/${pair.references.join(",")}/video?sync=${pair.sync}${pair.mirror ? "&mirror=true" : ""}`, wish);
  if (!taken) busy(false);
}

export function start() {
  voice.start();
  at("share-button").addEventListener("click", share);
  options(at("plan"), Object.entries(words.plans), "teach");
  options(at("screen"), Object.entries(words.screens), "phone");
  // In the order they are written in: numbers alone would come first.
  options(at("limit"), ["", "25", "16", "8"].map((v) => [v, words.limits[v]]), "");
  at("make").addEventListener("submit", make);
  at("making-stop").addEventListener("click", () => call("DELETE", "/video"));
  at("player-close").addEventListener("click", () => at("player").close());
  at("player").addEventListener("close", () => at("player-video").removeAttribute("src"));
  p.onPair(() => {
    if (!pair.data) return;
    at("label-today").placeholder = p.side(0).label;
    at("label-reference").placeholder = p.side(1).label;
  });
}

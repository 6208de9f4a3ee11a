// Talks with the desk's server. What it takes and gives: docs/desk.md.

import { at } from "./build.js";
import * as words from "./words.js";

const BASE = "/api/1";

export function alertText(text) {
  const box = at("alert");
  box.textContent = text ?? "";
  box.hidden = !text;
  clearTimeout(alertText.timer);
  if (text) alertText.timer = setTimeout(() => alertText(null), 9000);
}

/** JSON, or `null` after an error, which is shown. */
export const call = (method, path, body) =>
  ask(path, {
    method,
    headers: body === undefined ? {} : { "Content-Type": "application/json" },
    body: body === undefined ? undefined : JSON.stringify(body),
  });

/** Send a file as it is; answers as `call` does. */
export const send = (path, blob) =>
  ask(path, { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: blob });

async function ask(path, request) {
  try {
    const answer = await fetch(BASE + path, request);
    const text = await answer.text();
    let value = null;
    try {
      value = text ? JSON.parse(text) : {};
    } catch {
      value = { error: text };
    }
    if (answer.ok) return value;
    alertText(value.error);
  } catch {
    alertText(words.gone);
  }
  return null;
}

/** Tell why a picture did not come. */
export async function whyNot(url) {
  const answer = await fetch(url).catch(() => null);
  if (!answer) alertText(words.gone);
  else if (!answer.ok) alertText((await answer.json().catch(() => null))?.error);
}

export const get = (path) => call("GET", path);

/** Calls `hear[kind](data)` for everything that happens. */
export function listen(hear) {
  const source = new EventSource(`${BASE}/events`);
  for (const [kind, heard] of Object.entries(hear)) {
    source.addEventListener(kind, (event) => heard(JSON.parse(event.data)));
  }
  source.addEventListener("open", () => hear.clips({}));
  source.addEventListener("error", () => {
    if (source.readyState === EventSource.CLOSED) alertText(words.gone);
  });
}

export const stillUrl = (clip, index, width) =>
  `${BASE}/clips/${clip.id}/pictures/${index}?width=${width}&v=${clip.content}`;
export const videoUrl = (video, save) => `${BASE}/videos/${video.id}${save ? "?download=true" : ""}`;

/** The address of a pair's picture. */
export function pictureUrl(pair, lead, index) {
  const { today, references, sync, layout, ghost, whole, width, height, data } = pair;
  const query = new URLSearchParams({ sync, layout, v: data.version });
  if (pair.mirror) query.set("mirror", "true");
  if (layout === "ghost") query.set("ghost", ghost);
  if (whole) query.set("whole", "true");
  else {
    query.set("width", width);
    query.set("height", height);
  }
  return `${BASE}/pairs/${today}/${references.join(",")}/pictures/${lead === 0 ? "today" : "reference"}/${index}?${query}`;
}

// Shows something in a clip's own picture: where a point of the body is, how long a thing is, who bats.

import { get, stillUrl } from "./api.js";
import { at, el, svg } from "./build.js";
import * as p from "./pair.js";
import { clip } from "./reps.js";
import * as units from "./units.js";
import { stop } from "./view.js";
import * as words from "./words.js";

/** Handles moved with keys are set when nothing more comes for so long, ms. */
const REST_MS = 450;
/** So much of the picture is shown about a body, in the longer side of what is known of it. */
const AROUND = 1.5;

/** What is open: the side, its picture, what is shown, and what the server says of it. */
let now = null;
let timer = null;

const side = () => p.side(now.side);
const size = () => [side().width, side().height];

/** Handles of the present kind: name, place, what its place is kept by, whether it can be taken back. */
function handles() {
  if (now.kind === "points") {
    return now.marks.points.filter((m) => m.at).map((m) => ({ key: m.point, name: m.name, at: m.at, set: m.set }));
  }
  if (now.kind === "length") return [0, 1].map((i) => ({ key: String(i), name: words.mark.end[i], at: now.ends[i], set: false }));
  return [{ key: "hitter", name: words.mark.hitter, at: now.hitter, set: false }];
}

/** The part of the picture that is shown: about the hitter where points are moved, else all of it. */
function part() {
  const [width, height] = size();
  const body = now.marks.body;
  if (now.kind !== "points" || !body.length) return [0, 0, width, height];
  const [xs, ys] = [body.map((b) => b.x), body.map((b) => b.y)];
  const long = AROUND * Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys), 40);
  const [w, h] = [Math.min(width, 1.4 * long), Math.min(height, long)];
  const middle = (all, span, most) => Math.max(0, Math.min(most - span, (Math.min(...all) + Math.max(...all) - span) / 2));
  return [middle(xs, w, width), middle(ys, h, height), w, h];
}

/** A letter of a name is about so wide, px of the screen. */
const LETTER_PX = 7.6;

/** Where a handle's name stands: the first place inside the picture where no ring and no other name is. `px`: so many px of
 * the clip are one of the screen. */
function nameSpot({ at, name }, view, px, taken) {
  const wide = LETTER_PX * px * name.length;
  const beside = [
    { x: at.x + 14 * px, y: at.y + 4 * px, anchor: "start", left: at.x + 14 * px },
    { x: at.x - 14 * px, y: at.y + 4 * px, anchor: "end", left: at.x - 14 * px - wide },
  ];
  const over = [24, -15].map((by) => ({ x: at.x, y: at.y + by * px, anchor: "middle", left: at.x - wide / 2 }));
  // Beside an end of a length runs the line to the other end.
  const spots = now.kind === "length" ? [...over, ...beside] : [...beside, ...over];
  const box = (s) => [s.left, s.y - 12 * px, s.left + wide, s.y + 4 * px];
  const inside = ([x, y, right, bottom]) => x >= view[0] && y >= view[1] && right <= view[0] + view[2] && bottom <= view[1] + view[3];
  const apart = (a) => taken.every((b) => a[0] >= b[2] || b[0] >= a[2] || a[1] >= b[3] || b[1] >= a[3]);
  const found = spots.find((s) => inside(box(s)) && apart(box(s))) ?? spots[0];
  taken.push(box(found));
  return found;
}

function paint() {
  const picture = at("mark-picture");
  const [width, height] = size();
  const view = now.part;
  picture.setAttribute("viewBox", view.join(" "));
  const box = picture.getBoundingClientRect();
  // So many px of the clip are one of the screen.
  const px = box.width ? Math.max(view[2] / box.width, view[3] / box.height) : 1;
  const focused = document.activeElement?.dataset?.handle;
  const url = stillUrl(clip(side().id), now.index, 1920);
  let image = picture.querySelector("image");
  if (!image) picture.append((image = svg("image", { x: 0, y: 0 })));
  image.setAttribute("width", width);
  image.setAttribute("height", height);
  image.setAttribute("href", url);
  for (const old of picture.querySelectorAll(".handle, .between")) old.remove();
  const all = handles();
  if (now.kind === "length") {
    const [a, b] = now.ends;
    picture.append(svg("line", { class: "between", x1: a.x, y1: a.y, x2: b.x, y2: b.y, "stroke-width": 2 * px }));
  }
  const taken = all.map(({ at }) => [at.x - 9 * px, at.y - 9 * px, at.x + 9 * px, at.y + 9 * px]);
  for (const h of all) {
    const label = words.mark.place(h.name, h.at, h.set);
    const name = nameSpot(h, view, px, taken);
    picture.append(
      svg(
        "g",
        { class: `handle ${h.set ? "set" : ""}`, tabindex: "0", role: "button", "aria-roledescription": words.mark.role, "aria-label": label, "data-handle": h.key, "stroke-width": 2 * px },
        svg("circle", { class: "hit", cx: h.at.x, cy: h.at.y, r: 20 * px }),
        svg("circle", { class: "ring", cx: h.at.x, cy: h.at.y, r: 9 * px }),
        svg("circle", { class: "dot", cx: h.at.x, cy: h.at.y, r: 1.5 * px }),
        svg("text", { x: name.x, y: name.y, "font-size": 13 * px, "stroke-width": 3 * px, "text-anchor": name.anchor }, h.name),
      ),
    );
  }
  if (focused) picture.querySelector(`[data-handle="${focused}"]`)?.focus({ preventScroll: true });
  at("mark-frame").textContent = words.mark.frame(now.index, side().times_s.length);
  at("mark-help").textContent = now.kind === "points" && !all.length ? words.mark.notFollowed : words.mark.help[now.kind];
}

function paintForm() {
  for (const button of at("mark-kinds").children) {
    button.setAttribute("aria-checked", String(button.dataset.kind === now.kind));
    button.tabIndex = button.dataset.kind === now.kind ? 0 : -1;
  }
  at("mark-title").textContent = `${side().label} · ${side().name}`;
  at("mark-steps").hidden = now.kind === "length";
  at("mark-size").hidden = now.kind !== "length";
  at("mark-hitter").hidden = now.kind !== "hitter";
  units.fill(at("mark-height"), "height", now.marks.height_cm);
  units.fill(at("mark-length"), "length", now.marks.known_length?.cm ?? null);
  at("length-off").disabled = !now.marks.known_length;
  at("height-off").disabled = !now.marks.height_cm;
  at("hitter-off").disabled = !now.marks.hitter_at;
}

/** Look at a picture; what is shown of it is asked for anew. */
async function look(index) {
  const last = side().times_s.length - 1;
  const wanted = now.kind === "length" ? 0 : Math.max(0, Math.min(last, index));
  const mine = now;
  const marks = await get(`/clips/${side().id}/pictures/${wanted}/marks`);
  if (!marks || now !== mine) return;
  now.index = wanted;
  now.marks = marks;
  const [width, height] = size();
  const known = marks.known_length;
  now.ends ??= known ? [known.from, known.to] : [{ x: 0.4 * width, y: 0.9 * height }, { x: 0.6 * width, y: 0.9 * height }];
  now.hitter ??= marks.hitter_at ?? middleOf(marks.body) ?? { x: width / 2, y: height / 2 };
  now.part = part();
  paintForm();
  paint();
}

function middleOf(body) {
  if (!body.length) return null;
  const mean = (key) => body.reduce((sum, b) => sum + b[key], 0) / body.length;
  return { x: Math.round(mean("x")), y: Math.round(mean("y")) };
}

function setKind(kind) {
  // Where the length tool has been is no place to go on from.
  now.kind = kind;
  look(now.start);
}

export function open(i) {
  stop();
  const index = p.shown(i);
  now = { side: i, start: index, index, kind: "points", marks: null, ends: null, hitter: null, part: null };
  at("mark").showModal();
  look(index);
}

function move(key, place) {
  const [width, height] = size();
  const inside = { x: Math.max(0, Math.min(width, place.x)), y: Math.max(0, Math.min(height, place.y)) };
  if (now.kind === "points") now.marks.points.find((m) => m.point === key).at = inside;
  else if (now.kind === "length") now.ends[Number(key)] = inside;
  else now.hitter = inside;
  paint();
}

const round = (place) => ({ x: Math.round(10 * place.x) / 10, y: Math.round(10 * place.y) / 10 });

/** A point of the body is set as soon as it rests; ends of a length and the hitter when she says so. */
async function settle(key) {
  clearTimeout(timer);
  timer = null;
  if (now.kind !== "points") return;
  const place = round(now.marks.points.find((m) => m.point === key).at);
  const mine = now;
  await p.set(now.side, "PUT", `/points/${key}/${now.index}`, place);
  if (now === mine) await look(now.index);
  document.dispatchEvent(new CustomEvent("settled"));
}

async function takeBack(key) {
  clearTimeout(timer);
  if (now.kind !== "points" || !now.marks.points.find((m) => m.point === key)?.set) return;
  await p.set(now.side, "DELETE", `/points/${key}/${now.index}`);
  look(now.index);
}

function keyed(event) {
  if (event.key === "PageUp" || event.key === "PageDown") {
    look(now.index + (event.key === "PageUp" ? -1 : 1));
    event.preventDefault();
    return;
  }
  const key = event.target.closest?.(".handle")?.dataset.handle;
  if (key === undefined) return;
  const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (by) {
    const far = event.shiftKey ? 10 : 1;
    const place = handles().find((h) => h.key === key).at;
    move(key, { x: place.x + far * by[0], y: place.y + far * by[1] });
    clearTimeout(timer);
    timer = setTimeout(() => settle(key), REST_MS);
  } else if (event.key === "Delete" || event.key === "Backspace") takeBack(key);
  else return;
  event.preventDefault();
}

function inClip(event) {
  const picture = at("mark-picture");
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse());
  return { x: point.x, y: point.y };
}

function dragged(down) {
  if (down.button !== 0 || !now?.marks) return;
  const picture = at("mark-picture");
  const handle = down.target.closest(".handle");
  // Who bats is clicked anywhere.
  const key = handle?.dataset.handle ?? (now.kind === "hitter" ? "hitter" : null);
  if (key === null) return;
  down.preventDefault();
  const from = inClip(down);
  const grabbed = handles().find((h) => h.key === key).at;
  const offset = handle ? { x: grabbed.x - from.x, y: grabbed.y - from.y } : { x: 0, y: 0 };
  if (!handle) move(key, from);
  picture.querySelector(`[data-handle="${key}"]`)?.focus({ preventScroll: true });
  picture.setPointerCapture(down.pointerId);
  let began = false;
  const moved = (e) => {
    if (!began && Math.hypot(e.clientX - down.clientX, e.clientY - down.clientY) < 2) return;
    began = true;
    const place = inClip(e);
    move(key, { x: place.x + offset.x, y: place.y + offset.y });
  };
  const ended = (e) => {
    for (const kind of ["pointermove", "pointerup", "pointercancel"]) picture.removeEventListener(kind, kind === "pointermove" ? moved : ended);
    if (e.type === "pointercancel") look(now.index);
    else if (began) settle(key);
  };
  picture.addEventListener("pointermove", moved);
  picture.addEventListener("pointerup", ended);
  picture.addEventListener("pointercancel", ended);
}

async function setHeight(cm) {
  const also = [0, 1].filter((i) => i !== now.side).map((i) => p.side(i).id);
  await p.set(now.side, "PUT", "/height", { cm, also });
  look(now.index);
}

async function setLength(cm) {
  const [from, to] = now.ends.map(round);
  await p.set(now.side, "PUT", "/length", { length: cm === null ? null : { from, to, cm } });
  if (cm === null) now.ends = null;
  look(0);
}

async function setHitter(place) {
  const i = now.side;
  at("mark").close();
  await p.set(i, "PUT", "/hitter", { at: place });
}

export function start() {
  at("mark-kinds").replaceChildren(
    ...Object.entries(words.mark.kinds).map(([kind, name]) => el("button", { type: "button", role: "radio", "data-kind": kind, onclick: () => setKind(kind) }, name)),
  );
  at("mark-kinds").addEventListener("keydown", (event) => {
    const by = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    if (!by) return;
    const all = [...at("mark-kinds").children];
    const next = all[(all.findIndex((b) => b.dataset.kind === now.kind) + by + all.length) % all.length];
    setKind(next.dataset.kind);
    next.focus();
    event.preventDefault();
  });
  at("mark").addEventListener("keydown", keyed);
  at("mark").addEventListener("close", () => {
    clearTimeout(timer);
    // The pictures go where she went.
    if (now && p.pair.data && now.kind !== "length") p.goTo(now.side, now.index);
    now = null;
  });
  at("mark-picture").addEventListener("pointerdown", dragged);
  at("mark-back").addEventListener("click", () => look(now.index - 1));
  at("mark-forward").addEventListener("click", () => look(now.index + 1));
  at("mark-close").addEventListener("click", () => at("mark").close());
  at("height-set").addEventListener("click", () => units.read(at("mark-height"), "height", setHeight));
  at("height-off").addEventListener("click", () => setHeight(null));
  at("length-set").addEventListener("click", () => units.read(at("mark-length"), "length", setLength));
  at("length-off").addEventListener("click", () => setLength(null));
  at("hitter-set").addEventListener("click", () => setHitter(round(now.hitter)));
  at("hitter-off").addEventListener("click", () => setHitter(null));
  new ResizeObserver(() => now?.part && paint()).observe(at("mark-picture"));
}

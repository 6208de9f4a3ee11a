// The two that lie on the desk, and the moment that is looked at.

import { get, call, alertText } from "./api.js";
import { nearest } from "./build.js";

export const pair = {
  /** Ids; `references` may be several good reps. */
  today: null,
  references: [],
  sync: "plant",
  layout: "side-by-side",
  ghost: 0.5,
  /** The reference as its mirror image. */
  mirror: false,
  /** The picture as the video shows it. */
  whole: false,
  width: 840,
  height: 560,
  /** Which of the two the steps go by: 0 = today. */
  lead: 0,
  index: 0,
  /** The server's answer, once both are read. */
  data: null,
};

const heard = { pair: [], moment: [] };
export const onPair = (f) => heard.pair.push(f);
export const onMoment = (f) => heard.moment.push(f);
const tell = (list) => list.forEach((f) => f());

export const complete = () => pair.today !== null && pair.references.length > 0;
export const side = (i) => pair.data.sides[i];

/** Through the knots, slope 1 outside them. */
function through(t, from, to) {
  const knots = pair.data.knots;
  const first = knots[0];
  const last = knots[knots.length - 1];
  if (t <= first[from]) return first[to] + t - first[from];
  for (let i = 1; i < knots.length; i++) {
    const [a, b] = [knots[i - 1], knots[i]];
    if (t <= b[from]) return a[to] + ((t - a[from]) / (b[from] - a[from])) * (b[to] - a[to]);
  }
  return last[to] + t - last[from];
}

/** Today's time of a time of side `i`, s. */
export const todayTime = (i, t) => (i === 0 ? t : through(t, "reference_s", "today_s"));
/** A side's own time of today's, s. */
export const sideTime = (i, t) => (i === 0 ? t : through(t, "today_s", "reference_s"));
const knot = () => pair.data.knots.find((k) => k.event === pair.data.zero) ?? pair.data.knots[0];
/** The moment shown as 0, on today's clock, s. */
export const zero = () => knot().today_s;
/** ms of side `i`'s own clock from its own zero. */
export const fromZero = (i, t) => 1000 * (t - (i === 0 ? knot().today_s : knot().reference_s));

/** The picture of side `i` that is shown now. */
export function shown(i) {
  const lead = side(pair.lead);
  if (i === pair.lead) return pair.index;
  return nearest(side(i).times_s, sideTime(i, todayTime(pair.lead, lead.times_s[pair.index])));
}

export const now = () => todayTime(pair.lead, side(pair.lead).times_s[pair.index]);

export function goTo(lead, index) {
  if (!pair.data) return;
  const last = side(lead).times_s.length - 1;
  pair.lead = lead;
  pair.index = Math.max(0, Math.min(last, index));
  tell(heard.moment);
}

export const goToTime = (lead, t) => goTo(lead, nearest(side(lead).times_s, t));
export const step = (by) => pair.data && goTo(pair.lead, pair.index + by);

/** The side's event before or after the present picture. */
export function nextEvent(by) {
  if (!pair.data) return null;
  const events = side(pair.lead).events;
  const others = events.filter((e) => (by > 0 ? e.picture > pair.index : e.picture < pair.index));
  const found = by > 0 ? others[0] : others[others.length - 1];
  if (found) goTo(pair.lead, found.picture);
  return found ?? null;
}

/** Step by the other side's pictures, at the same moment. */
export function setLead(lead) {
  if (pair.data && lead !== pair.lead) goTo(lead, shown(lead));
}

let wanted = 0;

/** Put the two together anew; the moment stays where it is. */
export async function load() {
  const mine = ++wanted;
  remember();
  if (!complete()) {
    pair.data = null;
    tell(heard.pair);
    return;
  }
  const data = await get(`/pairs/${pair.today}/${pair.references.join(",")}?sync=${pair.sync}${pair.mirror ? "&mirror=true" : ""}`);
  if (mine !== wanted) return;
  if (!data) {
    // What was to be mirrored bats from the same side now.
    if (pair.mirror) {
      pair.mirror = false;
      return load();
    }
    pair.data = null;
    tell(heard.pair);
    return;
  }
  const same = pair.data && [0, 1].every((i) => pair.data.sides[i].id === data.sides[i].id);
  const first = pair.data === null || !same;
  pair.data = data;
  if (pair.layout === "ghost" && data.no_ghost) pair.layout = "side-by-side";
  if (first) {
    pair.lead = 0;
    pair.index = nearest(data.sides[0].times_s, zero());
  }
  tell(heard.pair);
  tell(heard.moment);
}

/** What lies on the desk stays when the page is loaded anew. */
function remember() {
  const words = new URLSearchParams();
  if (pair.today) words.set("today", pair.today);
  if (pair.references.length) words.set("with", pair.references.join(","));
  history.replaceState(null, "", `/#${words}`);
}

export function recall() {
  const words = new URLSearchParams(location.hash.slice(1));
  pair.today = words.get("today");
  pair.references = (words.get("with") ?? "").split(",").filter(Boolean);
}

/** Set something of side `i`; gives whether it was taken. */
export async function set(i, method, path, body) {
  alertText(null);
  const answer = await call(method, `/clips/${side(i).id}${path}`, body);
  await load();
  return answer !== null;
}

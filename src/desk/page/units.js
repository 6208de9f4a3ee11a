// Lengths in the units that she reads; the server's are metric.

import { el } from "./build.js";
import * as words from "./words.js";

/** "metric" or "us", as the server says. */
export const units = { now: "metric" };

/** Exact since 1959. */
const CM_AN_INCH = 2.54;

const field = (name, label, value) =>
  el("label", {}, `${label} `, el("input", { type: "number", name, min: "0", step: "any", inputmode: "decimal", value, required: true }));

/** Put the fields of a height or another length into an element, with what is known. */
export function fill(box, kind, cm) {
  const us = units.now === "us";
  const inches = cm === null ? null : cm / CM_AN_INCH;
  const round = (v, by) => (v === null ? "" : String(Math.round(v * by) / by));
  const text = words.lengths[kind];
  if (!us) box.replaceChildren(field("cm", `${text} ${words.lengths.cm}`, round(cm, 10)));
  else if (kind === "height") {
    const feet = inches === null ? null : Math.floor(Math.round(inches * 4) / 48);
    box.replaceChildren(
      field("feet", `${text} ${words.lengths.feet}`, feet === null ? "" : String(feet)),
      field("inches", words.lengths.inches, feet === null ? "" : round(inches - 12 * feet, 4)),
    );
  } else box.replaceChildren(field("inches", `${text} ${words.lengths.inches}`, round(inches, 100)));
}

/** Hands on what was typed, cm; what is no number is told by the field itself. */
export function read(box, kind, then) {
  const fields = [...box.querySelectorAll("input")];
  // Nothing for inches is none.
  if (kind === "height" && fields.length === 2 && fields[0].value && !fields[1].value) fields[1].value = "0";
  if (fields.some((f) => !f.reportValidity())) return;
  const value = Object.fromEntries(fields.map((f) => [f.name, Number(f.value)]));
  then("cm" in value ? value.cm : CM_AN_INCH * (12 * (value.feet ?? 0) + value.inches));
}

// Small helpers to build elements.

const SVG = "http://www.w3.org/2000/svg";

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.filter((c) => c !== null && c !== undefined));
  return element;
}

export const el = (tag, attributes = {}, ...children) => fill(document.createElement(tag), attributes, children);
export const svg = (tag, attributes = {}, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);
export const at = (id) => document.getElementById(id);

/** Options of a select, from value to text. */
export function options(select, texts, value) {
  select.replaceChildren(...texts.map(([v, text]) => el("option", { value: v }, text)));
  select.value = value;
}

/** The place of the number in a rising list that is nearest to `wanted`. */
export function nearest(list, wanted) {
  let low = 0;
  let high = list.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (list[middle] < wanted) low = middle + 1;
    else high = middle;
  }
  return low > 0 && wanted - list[low - 1] <= list[low] - wanted ? low - 1 : low;
}

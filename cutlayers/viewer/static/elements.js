// Elements of the page: found, made, and taken from pictures.

/** @param {string} id @returns {any} */
export const at = (id) => document.getElementById(id);

/**
 * An element with attributes, properties of its own and what is in it. Texts are never markup.
 * @param {string} tag
 * @param {Record<string, any>} [given]
 * @param {...(Node | string)} inside
 * @returns {any}
 */
export function make(tag, given = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value != null) element.setAttribute(name, String(value));
  }
  element.append(...inside);
  return element;
}

const SVG = "http://www.w3.org/2000/svg";

/**
 * @param {string} tag
 * @param {Record<string, any>} [given]
 * @param {...Node} inside
 * @returns {any}
 */
export function svg(tag, given = {}, ...inside) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(given)) element.setAttribute(name, String(value));
  element.append(...inside);
  return element;
}

/**
 * A picture that our server wrote, as an element.
 * @param {string} markup
 */
export function picture(markup) {
  const found = new DOMParser().parseFromString(
    markup.includes("xmlns=") ? markup : markup.replace("<svg", `<svg xmlns="${SVG}"`),
    "image/svg+xml",
  );
  return document.importNode(found.documentElement, true);
}

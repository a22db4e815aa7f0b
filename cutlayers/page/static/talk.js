// What the page says to its own server, and hears from it.

/** A request that failed for good: the server has ended. */
export class Gone extends Error {}

/**
 * @param {string} path
 * @param {AbortSignal} [signal]
 * @returns {Promise<any>}
 */
export async function get(path, signal) {
  const answer = await reach(path, { signal });
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}

/**
 * @param {string} path
 * @param {object} body
 * @returns {Promise<any>}
 */
export async function post(path, body) {
  const answer = await reach(path, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  });
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}

/**
 * @param {string} path
 * @param {RequestInit} how
 */
async function reach(path, how) {
  try {
    return await fetch(path, how);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Gone("the page's server has ended");
  }
}

const PATIENCE_MS = 6000;

/**
 * Hear what happens, and `{ again: true }` where something may have been missed; `gone` is told when
 * the server has ended. One that is busy is waited for: the browser asks anew by itself.
 * @param {string} path
 * @param {(told: any) => void} heard
 * @param {() => void} gone
 */
export function listen(path, heard, gone) {
  const source = new EventSource(path);
  let waiting = 0;
  source.onmessage = (event) => heard(JSON.parse(event.data));
  source.onopen = () => {
    if (waiting) heard({ again: true });
    clearTimeout(waiting);
    waiting = 0;
  };
  source.onerror = () => {
    waiting ||= setTimeout(() => {
      source.close();
      gone();
    }, PATIENCE_MS);
  };
  addEventListener("pagehide", () => source.close());
}

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

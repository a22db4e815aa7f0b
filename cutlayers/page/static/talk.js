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

// The gallery of styles: searched by words, one of them chosen.

/**
 * @param {ParentNode} room where it stands
 * @param {(style: string, card: HTMLButtonElement) => void} chosen
 */
export function gallery(room, chosen) {
  const search = /** @type {HTMLInputElement} */ (room.querySelector("#search"));
  const none = /** @type {HTMLElement} */ (room.querySelector("#none"));
  room.querySelector("#gallery")?.addEventListener("click", (event) => {
    const card = /** @type {Element} */ (event.target).closest("button");
    if (card) chosen(card.dataset.style ?? "", card);
  });
  search.addEventListener("input", () => {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    let any = false;
    for (const item of room.querySelectorAll(".gallery li")) {
      const text = (item.textContent ?? "").toLowerCase();
      const fits = words.every((word) => text.includes(word));
      /** @type {HTMLElement} */ (item).hidden = !fits;
      any ||= fits;
    }
    none.hidden = any;
  });
}

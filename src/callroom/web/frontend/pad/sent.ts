// What was handed in on this phone, as plain figures that can be read out at the desk: all that
// waits, and the last few that arrived.

import { el } from "./dom.ts";
import type { Waiting } from "./keeping.ts";
import type { Words } from "./words.ts";

const DELIVERED_SHOWN = 6;

export function drawSent(waiting: readonly Waiting[], words: Words): HTMLElement {
  const scores = [...waiting].reverse().filter((one) => one.says !== "");
  const delivered = scores.filter((one) => one.state === "delivered").slice(0, DELIVERED_SHOWN);
  const shown = scores.filter((one) => one.state !== "delivered" || delivered.includes(one));
  const list = el("ul", { class: "pad-sent" });
  for (const one of shown) {
    const state = { waiting: "waits", delivered: "delivered", refused: "refused" }[one.state];
    list.append(el("li", { class: one.state, text: `${one.says} – ${words(state)}` }));
  }
  return list;
}

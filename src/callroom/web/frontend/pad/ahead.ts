// The next heats in this lane. Their pads are fetched while there is a network, so that the
// browser can still open them when there is none: an hour without the server is four heats.

import { el } from "./dom.ts";
import type { PadNext } from "./work.ts";
import type { Words } from "./words.ts";

const BETWEEN_MS = 400;
const AGAIN_MS = 5 * 60_000;
const PATIENCE_MS = 15_000;

export function drawAhead(next: readonly PadNext[], words: Words): HTMLElement[] {
  if (next.length === 0) return [];
  const list = el("ul", { class: "pad-ahead" });
  for (const one of next) {
    const link = el("a", {
      text: [one.workout_name, words("Heat {n}", { n: one.heat_number }), one.team_name].join(" · "),
    });
    link.href = one.path;
    list.append(el("li", {}, link));
  }
  return [el("p", { class: "pad-next", text: words("Next in this lane, also without a network:") }), list];
}

/** Keep the pads of these addresses in the browser's own store, fresh; `ready` is told how many. */
export function keepAhead(paths: readonly string[], ready: (count: number) => void): void {
  const look = async (): Promise<void> => {
    let kept = 0;
    for (const path of paths) {
      try {
        // Asked by the mark of what is kept: "reload" would throw that away before the answer. And
        // not for ever: while an address is asked for, no other tab can open what is kept of it.
        const answer = await fetch(path, {
          cache: "no-cache",
          headers: { Accept: "text/html" },
          signal: AbortSignal.timeout(PATIENCE_MS),
        });
        await answer.text();
        if (answer.ok) kept += 1;
      } catch {
        break; // no network: what was kept before still is
      }
      await new Promise((resolve) => setTimeout(resolve, BETWEEN_MS));
    }
    if (kept > 0) ready(kept);
    setTimeout(() => void look(), AGAIN_MS);
  };
  void look();
}

// Says how well a page's clock is in step: within how much, or that it does not know the time.

import { clock } from "./running.ts";

// Results are cut off to whole seconds; a quarter of one is where a difference can be seen.
export const DOUBTFUL_MS = 250;

/** Write into a [data-step] what its texts [data-known, data-doubtful, data-unknown] say. */
export function sayStep(): void {
  const { error } = clock;
  for (const place of document.querySelectorAll<HTMLElement>("[data-step]")) {
    const state = error === null ? "unknown" : error > DOUBTFUL_MS ? "doubtful" : "known";
    const text = (place.dataset[state] ?? "").replace("{ms}", String(error ?? ""));
    place.dataset["step"] = state;
    if (place.textContent !== text) place.textContent = text;
  }
  document.documentElement.dataset["clockOffset"] = String(clock.offset);
  document.documentElement.dataset["clockError"] = error === null ? "" : String(error);
}

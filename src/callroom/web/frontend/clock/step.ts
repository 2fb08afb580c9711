// Says how well a page's clock is in step: within how much, or that it does not know the time.

import { DOUBTFUL_MS } from "./doubt.ts";
import { clock } from "./running.ts";

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

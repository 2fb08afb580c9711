// One object for the whole team: who has it, and a touch when it goes to somebody else.

import { el } from "./dom.ts";
import type { Sight } from "./sight.ts";
import type { Tally } from "./tally.ts";
import type { PadStep } from "./work.ts";

export function carrying(
  sight: Sight,
  tally: Tally,
  step: PadStep | null,
  over: boolean,
): HTMLElement[] {
  const { pad, hands, words } = sight;
  if (step === null || !step.carried || pad.places.length < 2) return [];
  const row = el("div", { class: "pad-row pad-places", role: "group", label: words("Who has it?") });
  for (const place of pad.places) {
    const press = () => hands.mark({ does: "hand", at: hands.now(), task: step.task, place });
    const pressed = tally.carrier === place;
    row.append(el("button", { class: "pad-key line", text: place, pressed, press, disabled: over }));
  }
  const said =
    tally.carrier === null
      ? words("Who has it? Touch at each hand-over")
      : words("{place} has it · hand-overs: {n}", { place: tally.carrier, n: tally.handed });
  return [el("p", { class: "pad-mind", text: said }), row];
}

// Lifts: the load as it is on the bar, good or not, try after try.

import { button, el } from "./dom.ts";
import type { Sight } from "./sight.ts";
import type { Tally } from "./tally.ts";

export function lifting(sight: Sight, tally: Tally): HTMLElement[] {
  const { part, looks, hands, words, pad } = sight;
  const lift = part.lifts.find((one) => one.task === looks.lift) ?? part.lifts[0];
  if (lift === undefined) return [];
  const made = tally.lifts.filter((one) => one.task === lift.task);
  const over = tally.stopped !== null || (lift.tries > 0 && made.length >= lift.tries);
  const input = el("input", { class: "pad-load" });
  input.inputMode = "decimal";
  input.autocomplete = "off";
  input.setAttribute("aria-label", words("Load in {unit}", { unit: pad.mass_unit }));
  const call = (good: boolean) => {
    const amount = input.value.trim().replace(",", ".");
    if (!/^\d{1,4}(\.\d{1,3})?$/.test(amount) || Number(amount) === 0) {
      input.classList.add("wrong");
      input.focus();
      return;
    }
    const at = hands.now();
    hands.mark({ does: "lift", at, task: lift.task, amount, unit: pad.mass_unit, good });
  };
  const list = el("ol", { class: "pad-lifts" });
  for (const one of made) {
    const said = one.good ? words("good") : words("no lift");
    list.append(el("li", { text: `${one.amount} ${one.unit} – ${said}` }));
  }
  const tabs = el("div", { class: "pad-row pad-strands" });
  for (const one of part.lifts.length > 1 ? part.lifts : []) {
    const press = () => {
      looks.lift = one.task;
      hands.redraw();
    };
    const pressed = one === lift;
    tabs.append(el("button", { class: "pad-key line", text: one.says, pressed, press }));
  }
  const tries = lift.tries > 0 ? words("try {n} of {all}", { n: made.length + 1, all: lift.tries }) : "";
  return [
    tabs,
    el(
      "div",
      { class: "pad-work" },
      el("h2", { class: "pad-task", text: lift.says }),
      over ? null : el("p", { class: "pad-mind", text: tries }),
    ),
    list,
    el("label", { class: "pad-load-row", text: pad.mass_unit }, input),
    el(
      "div",
      { class: "pad-row" },
      button(words("No lift"), "norep", () => call(false), over),
      button(words("Good lift"), "finish", () => call(true), over),
    ),
  ];
}

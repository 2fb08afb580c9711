// Handing in: the result and the no-reps in plain figures, and the captain's word for the count.

import { button, clockText, el } from "./dom.ts";
import { resultOf, type Result } from "./report.ts";
import type { Sight } from "./sight.ts";
import type { Tally } from "./tally.ts";
import type { Words } from "./words.ts";

export function handIn(sight: Sight, tally: Tally): HTMLElement[] {
  const { part, hands, looks, words } = sight;
  const result = resultOf(part, tally, sight.zero);
  const box = el("input");
  box.type = "checkbox";
  box.checked = looks.signed;
  box.addEventListener("change", () => {
    looks.signed = box.checked;
  });
  const initials = el("input", { class: "pad-initials" });
  initials.maxLength = 8;
  initials.autocomplete = "off";
  initials.value = looks.initials;
  initials.setAttribute("aria-label", words("Initials, may stay empty"));
  initials.placeholder = words("Initials");
  initials.addEventListener("input", () => {
    looks.initials = initials.value;
    // Who writes their initials accepts the count.
    if (initials.value.trim() !== "") looks.signed = box.checked = true;
  });
  const back = () => {
    looks.sending = false;
    hands.redraw();
  };
  const stamped = tally.finished !== null && tally.typed_ms === null;
  const made: (HTMLElement | false)[] = [
    el("h2", { class: "pad-task", text: sayResult(result, words) }),
    sight.doubtful &&
      stamped &&
      el("p", {
        class: "pad-warn",
        text: words("This phone does not know the time well. Compare with the hall's clock; under More the time can be typed."),
        role: "alert",
      }),
    tally.no_reps.size > 0 && el("p", { class: "pad-mind", text: sayNoReps(tally, words) }),
    el("label", { class: "pad-sign" }, box, words("The captain accepts this count"), initials),
    el(
      "div",
      { class: "pad-row" },
      button(words("Back"), "thin", back),
      button(words("Hand in"), "finish", () => hands.send(looks.signed, looks.initials.trim())),
    ),
  ];
  return made.filter((one) => one !== false);
}

function sayNoReps(tally: Tally, words: Words): string {
  const said = [...tally.no_reps].map(([key, count]) => {
    const reason = key.split("\n")[1] ?? "";
    return `${count} × ${reason === "" ? words("No-rep") : reason}`;
  });
  return said.join(", ");
}

/** The result as plain figures: to be checked, read out, or written on paper. */
export function sayResult(result: Result, words: Words): string {
  const split =
    result.tiebreak_ms === undefined ? "" : ` · ${words("split")} ${clockText(result.tiebreak_ms)}`;
  switch (result.outcome) {
    case "finished":
      return `${words("Finished in")} ${clockText(result.time_ms ?? 0, true)}${split}`;
    case "capped":
      return `${words("Time cap, done:")} ${result.work ?? 0}${split}`;
    case "worked":
      return `${words("Done:")} ${result.work ?? 0}${split}`;
    case "covered":
      return `${result.distance_m ?? 0} m`;
    case "lifted": {
      const good = (result.lifts ?? []).filter((lift) => lift.good);
      const said = good.map((lift) => `${lift.mass.amount} ${lift.mass.unit}`).join(", ");
      return `${words("Good lifts:")} ${said === "" ? words("none") : said}`;
    }
    case "did_not_start":
      return words("Did not start");
    default:
      return words("Gave up");
  }
}

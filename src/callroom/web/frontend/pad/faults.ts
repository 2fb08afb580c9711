// What does not count. One touch says it; a reason may be added and is never asked for. On a
// distance a fault sends back to the last mark, or stops until it is put right.

import { button, el } from "./dom.ts";
import type { Sight } from "./sight.ts";
import { doneOf, type Tally } from "./tally.ts";
import type { Cost, PadStep } from "./work.ts";

export function faultKeys(
  sight: Sight,
  tally: Tally,
  step: PadStep | null,
  over: boolean,
): HTMLElement {
  const { looks, hands, words, pad } = sight;
  const task = step?.task ?? "";
  const given = [...tally.no_reps.values()].reduce((one, other) => one + other, 0);
  const reasons = pad.reasons[task] ?? [];
  const say = (reason: string, cost: Cost) => {
    looks.reasons = false;
    hands.mark({ does: "norep", at: hands.now(), task, reason, cost });
  };
  const counted = (text: string) => (given === 0 ? text : `${text} · ${given}`);
  const row =
    step?.unit === "metres"
      ? el(
          "div",
          { class: "pad-row pad-tight" },
          button(counted(words("Back to the mark")), "norep", () => say("", "stretch"), over),
          button(words("Stop there"), "norep", () => say("", "stand_still"), over),
        )
      : el(
          "div",
          { class: "pad-row" },
          button(counted(words("No-rep")), "norep", () => say("", "repetition"), over),
        );
  if (reasons.length > 0) {
    const press = () => {
      looks.reasons = !looks.reasons;
      hands.redraw();
    };
    row.append(
      el("button", { class: "pad-key thin", text: words("Why"), pressed: looks.reasons, press }),
    );
  }
  const box = el("div", { class: "pad-noreps" }, row);
  if (looks.reasons) {
    const why = el("div", { class: "pad-row pad-why" });
    for (const { label, cost } of reasons) {
      why.append(button(label, "norep", () => say(label, cost), over));
    }
    box.append(why);
  }
  return box;
}

/** What the judge now says to the team; nothing where the next repetition simply follows. */
export function faultSays(sight: Sight, tally: Tally, step: PadStep | null): HTMLElement[] {
  const { words } = sight;
  const text = ((): string => {
    switch (tally.fault) {
      case "stretch":
        return step?.unit === "metres"
          ? words("Back to the mark at {metres} m", { metres: doneOf(tally, step) * step.mark })
          : words("Do this stretch again");
      case "stand_still":
        return words("Stop: nothing counts until it is put right");
      case "attempt":
        return words("This try is lost");
      default:
        return "";
    }
  })();
  return text === "" ? [] : [el("p", { class: "pad-fault", text, role: "status" })];
}

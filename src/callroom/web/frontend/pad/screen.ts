// What the judge sees of one part: the work, the count, the keys. Drawn anew after every mark.

import { carrying } from "./carrying.ts";
import { button, el } from "./dom.ts";
import { faultKeys, faultSays } from "./faults.ts";
import { handIn } from "./hand_in.ts";
import { lifting } from "./lifting.ts";
import { more } from "./more.ts";
import { partZero } from "./report.ts";
import type { Sight } from "./sight.ts";
import { current, doneOf, fold, strandsOf, total, type Tally } from "./tally.ts";
import type { PadStep } from "./work.ts";

export function drawPart(sight: Sight): HTMLElement {
  const tally = fold(sight.part, sight.marks);
  const section = el("section", { class: "pad-part" });
  if (sight.looks.sending) {
    section.append(...handIn(sight, tally));
    return section;
  }
  section.append(...(sight.part.kind === "load" ? lifting(sight, tally) : counting(sight, tally)));
  section.append(lastRow(sight, tally));
  if (sight.looks.more) section.append(more(sight, tally));
  return section;
}

function counting(sight: Sight, tally: Tally): HTMLElement[] {
  const { looks, hands, words } = sight;
  const strands = strandsOf(tally);
  if (!strands.includes(looks.strand)) looks.strand = strands[0] ?? 0;
  const step = current(tally, looks.strand);
  const over = tally.finished !== null || tally.stopped !== null;
  const count = (n: number) =>
    hands.mark({ does: "count", at: hands.now(), n, strand: looks.strand });
  const fill = () =>
    hands.mark({
      does: "fill",
      at: hands.now(),
      task: step?.task ?? "",
      rounds_done: tally.rounds_done,
      strand: looks.strand,
    });
  const left = step === null ? 0 : step.counts - doneOf(tally, step);
  const byMarks = step?.unit === "metres";
  return [
    work(sight, tally, step),
    strandKeys(sight, strands),
    ...carrying(sight, tally, step, over),
    el(
      "div",
      { class: "pad-row" },
      // Marks are passed one at a time; repetitions come faster than a thumb.
      !byMarks && button("+5", "line", () => count(5), step === null || over),
      !byMarks && button("+10", "line", () => count(10), step === null || over),
      button(words("Set done"), "line", fill, left === 0 || over),
    ),
    faultKeys(sight, tally, step, over),
    ...faultSays(sight, tally, step),
    countKey(sight, tally, step, () => count(1), step === null || over),
  ];
}

function work(sight: Sight, tally: Tally, step: PadStep | null): HTMLElement {
  const { words } = sight;
  const where = whereIn(sight, tally);
  const next = nextOf(tally, step);
  return el(
    "div",
    { class: "pad-work" },
    where !== "" && el("p", { class: "pad-round", text: where }),
    el("h2", { class: "pad-task", text: step?.says ?? words("All done") }),
    ...(step?.minds ?? []).map((mind) => el("p", { class: "pad-mind", text: mind })),
    next !== null && el("p", { class: "pad-next", text: words("Then: {task}", { task: next.says }) }),
  );
}

/** The round, where there are several, else the name of the block. */
function whereIn(sight: Sight, tally: Tally): string {
  const { part, words } = sight;
  const round = tally.round;
  if (round === null) return "";
  if (round.repeats) {
    return words("Round {n}", { n: tally.rounds_done - part.rounds.indexOf(round) + 1 });
  }
  if (round.of > 1) return words("Round {n} of {all}", { n: round.number, all: round.of });
  return part.rounds.length > 1 ? round.name : "";
}

function nextOf(tally: Tally, step: PadStep | null): PadStep | null {
  const steps = tally.round?.steps ?? [];
  if (step === null) return null;
  const mine = steps.filter((one) => one.strand === step.strand);
  return mine[mine.indexOf(step) + 1] ?? null;
}

function strandKeys(sight: Sight, strands: readonly number[]): HTMLElement {
  const row = el("div", { class: "pad-row pad-strands" });
  if (strands.length < 2) return row;
  for (const strand of strands) {
    const pressed = strand === sight.looks.strand;
    const text = sight.words("Side {n}", { n: strands.indexOf(strand) + 1 });
    const press = () => {
      sight.looks.strand = strand;
      sight.hands.redraw();
    };
    row.append(el("button", { class: "pad-key line", text, pressed, press }));
  }
  return row;
}

function countKey(
  sight: Sight,
  tally: Tally,
  step: PadStep | null,
  press: () => void,
  disabled: boolean,
): HTMLElement {
  const { words } = sight;
  // One touch a mark; what stands there are metres, as they are painted on the floor.
  const byMarks = step?.unit === "metres";
  const unit = byMarks ? step.mark : 1;
  const here = step === null ? "–" : `${doneOf(tally, step) * unit}`;
  const of = step === null ? "" : ` / ${step.counts * unit}${byMarks ? " m" : ""}`;
  const all = sight.part.total === null ? "" : ` / ${sight.part.total}`;
  return el(
    "button",
    { class: "pad-key pad-count", press, disabled },
    el("span", {
      class: "pad-heard",
      text: words(byMarks ? "The next mark is passed" : "One more"),
    }),
    el("span", { class: "pad-here", text: here }),
    el("span", { class: "pad-of", text: of }),
    el("span", {
      class: "pad-total",
      text: `${words("Total")} ${total(tally)}${all}`,
    }),
  );
}

function lastRow(sight: Sight, tally: Tally): HTMLElement {
  const { part, marks, looks, hands, words } = sight;
  const over = tally.finished !== null || tally.stopped !== null;
  const unstarted = partZero(part, tally, sight.zero) === null;
  const open = (what: "sending" | "more") => () => {
    looks[what] = !looks[what];
    hands.redraw();
  };
  return el(
    "div",
    { class: "pad-row pad-last" },
    button(words("Undo"), "thin", hands.undo, marks.length === 0),
    part.split_wanted &&
      button(words("Split"), tally.split === null ? "line" : "thin", () =>
        hands.mark({ does: "split", at: hands.now() }), over),
    button(words("More"), "thin", open("more")),
    part.kind === "time" && !over && !sight.ended
      ? button(words("Finish"), "finish", () => hands.mark({ does: "finish", at: hands.now() }), unstarted)
      : button(words("Hand in"), "finish", open("sending")),
  );
}

// What the judge sees of one part: the work, the count, the keys. Drawn anew after every mark.

import { button, clockText, el } from "./dom.ts";
import { partZero, resultOf, type Result } from "./report.ts";
import { current, doneOf, fold, strandsOf, total, type Mark, type Tally } from "./tally.ts";
import type { LanePad, PadPart, PadStep } from "./work.ts";
import type { Words } from "./words.ts";

export interface Hands {
  /** Add one mark; it is shown once the phone has kept it. */
  readonly mark: (mark: Mark) => void;
  readonly undo: () => void;
  readonly send: (signed: boolean) => void;
  readonly now: () => number;
  readonly redraw: () => void;
}

/** What the judge has opened on the screen; no part of the count. */
export interface Looks {
  strand: number;
  reasons: boolean;
  sending: boolean;
  more: boolean;
  lift: string;
  signed: boolean;
}

export interface Sight {
  readonly pad: LanePad;
  readonly part: PadPart;
  readonly marks: readonly Mark[];
  readonly zero: number | null;
  readonly looks: Looks;
  readonly hands: Hands;
  readonly words: Words;
}

export function drawPart(sight: Sight): HTMLElement {
  const tally = fold(sight.part, sight.marks);
  const section = el("section", { class: "pad-part" });
  if (sight.looks.sending) {
    section.append(...handIn(sight, tally));
    return section;
  }
  section.append(...(sight.part.kind === "load" ? lifting(sight, tally) : counting(sight, tally)));
  section.append(lastRow(sight, tally));
  if (sight.looks.more) section.append(more(sight));
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
  return [
    work(sight, tally, step),
    strandKeys(sight, strands),
    el(
      "div",
      { class: "pad-row" },
      button("+5", "line", () => count(5), step === null || over),
      button("+10", "line", () => count(10), step === null || over),
      button(words("Set done"), "line", fill, left === 0 || over),
    ),
    noRep(sight, tally, step?.task ?? "", over),
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
  const here = step === null ? "–" : `${doneOf(tally, step)}`;
  const of = step === null ? "" : ` / ${step.counts}`;
  const all = sight.part.total === null ? "" : ` / ${sight.part.total}`;
  return el(
    "button",
    { class: "pad-key pad-count", press, disabled, label: sight.words("One more") },
    el("span", { class: "pad-here", text: here }),
    el("span", { class: "pad-of", text: of }),
    el("span", {
      class: "pad-total",
      text: `${sight.words("Total")} ${total(tally)}${all}`,
    }),
  );
}

function noRep(sight: Sight, tally: Tally, task: string, over: boolean): HTMLElement {
  const { looks, hands, words, pad } = sight;
  const given = [...tally.no_reps.values()].reduce((one, other) => one + other, 0);
  const reasons = pad.reasons[task] ?? [];
  const say = (reason: string) => {
    looks.reasons = false;
    hands.mark({ does: "norep", at: hands.now(), task, reason });
  };
  const box = el("div", { class: "pad-noreps" });
  const text = given === 0 ? words("No-rep") : `${words("No-rep")} · ${given}`;
  // One touch is the no-rep; a reason may be added before, and is never asked for.
  const row = el("div", { class: "pad-row" }, button(text, "norep", () => say(""), over));
  if (reasons.length > 0) {
    const press = () => {
      looks.reasons = !looks.reasons;
      hands.redraw();
    };
    row.append(
      el("button", { class: "pad-key thin", text: words("Why"), pressed: looks.reasons, press }),
    );
  }
  box.append(row);
  if (looks.reasons) {
    const why = el("div", { class: "pad-row pad-why" });
    for (const reason of reasons) why.append(button(reason, "norep", () => say(reason), over));
    box.append(why);
  }
  return box;
}

function lifting(sight: Sight, tally: Tally): HTMLElement[] {
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
    el("div", { class: "pad-work" }, el("h2", { class: "pad-task", text: lift.says }), over ? null : el("p", { class: "pad-mind", text: tries })),
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
    part.kind === "time" && !over
      ? button(words("Finish"), "finish", () => hands.mark({ does: "finish", at: hands.now() }), unstarted)
      : button(words("Hand in"), "finish", open("sending")),
  );
}

function more(sight: Sight): HTMLElement {
  const { part, hands, words, zero, marks, looks } = sight;
  const stop = (why: "absent" | "withdrew" | "medical") => () => {
    looks.more = false;
    hands.mark({ does: "stop", at: hands.now(), why });
  };
  const box = el("div", { class: "pad-more" });
  if (zero === null && part.kind !== "load") {
    box.append(
      button(words("Start my own clock now"), "line", () =>
        hands.mark({ does: "start", at: hands.now() }),
      ),
    );
  }
  if (part.kind !== "load") box.append(typed(sight));
  box.append(
    button(words("Did not start"), "thin", stop("absent")),
    button(words("Gave up"), "thin", stop("withdrew")),
    button(words("Stopped for a medical reason"), "thin", stop("medical")),
  );
  if (part.kind === "time" && marks.length > 0) {
    box.append(
      button(words("Time is up: hand in the count"), "line", () => {
        looks.sending = true;
        hands.redraw();
      }),
    );
  }
  return box;
}

function typed(sight: Sight): HTMLElement {
  const input = el("input", { class: "pad-load" });
  input.inputMode = "numeric";
  input.setAttribute("aria-label", sight.words("The whole count"));
  const set = () => {
    if (!/^\d{1,6}$/.test(input.value.trim())) {
      input.classList.add("wrong");
      return;
    }
    sight.looks.more = false;
    const at = sight.hands.now();
    sight.hands.mark({ does: "total", at, total: Number(input.value.trim()) });
  };
  return el(
    "div",
    { class: "pad-row" },
    input,
    button(sight.words("Set the whole count"), "line", set),
  );
}

function handIn(sight: Sight, tally: Tally): HTMLElement[] {
  const { part, hands, looks, words } = sight;
  const result = resultOf(part, tally, sight.zero);
  const box = el("input");
  box.type = "checkbox";
  box.checked = looks.signed;
  box.addEventListener("change", () => {
    looks.signed = box.checked;
  });
  const back = () => {
    looks.sending = false;
    hands.redraw();
  };
  return [
    el("h2", { class: "pad-task", text: sayResult(result, words) }),
    el("label", { class: "pad-sign" }, box, words("The captain accepts this count")),
    el(
      "div",
      { class: "pad-row" },
      button(words("Back"), "thin", back),
      button(words("Hand in"), "finish", () => hands.send(looks.signed)),
    ),
  ];
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

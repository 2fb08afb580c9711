// Counting: every touch is a mark in a log; what is shown is the log folded. Undo takes the
// last mark away. Times are the server's [ms], as well as the phone knows them.

import type { Cost, PadPart, PadRound, PadStep } from "./work.ts";

export type Mark =
  | { readonly does: "start"; readonly at: number }
  | { readonly does: "count"; readonly at: number; readonly n: number; readonly strand: number }
  | {
      readonly does: "fill";
      readonly at: number;
      readonly task: string;
      readonly rounds_done: number;
      readonly strand: number;
    }
  | { readonly does: "total"; readonly at: number; readonly total: number }
  | {
      readonly does: "norep";
      readonly at: number;
      readonly task: string;
      readonly reason: string;
      /** What it costs; logs kept by an older page do not say. */
      readonly cost?: Cost;
    }
  /** The shared object went to a place of the line-up; another judge took over the lane. */
  | { readonly does: "hand"; readonly at: number; readonly task: string; readonly place: string }
  | { readonly does: "judge"; readonly at: number }
  | { readonly does: "split"; readonly at: number }
  /** `time_ms`: read from the hall's clock and typed, where this phone does not know the time. */
  | { readonly does: "finish"; readonly at: number; readonly time_ms?: number }
  | {
      readonly does: "lift";
      readonly at: number;
      readonly task: string;
      readonly amount: string;
      readonly unit: "kg" | "lb";
      readonly good: boolean;
    }
  | { readonly does: "stop"; readonly at: number; readonly why: "absent" | "withdrew" | "medical" };

export interface Lift {
  readonly task: string;
  readonly amount: string;
  readonly unit: "kg" | "lb";
  readonly good: boolean;
}

export interface Tally {
  /** Counts done in whole rounds, and how many rounds that is. */
  readonly before: number;
  readonly rounds_done: number;
  /** The round being worked on, and the counts of each of its steps. */
  readonly round: PadRound | null;
  readonly counts: readonly number[];
  readonly metres_before: number;
  readonly started: number | null;
  readonly split: number | null;
  readonly finished: number | null;
  /** The time of the finish as it was typed [ms]; null: the touch tells it. */
  readonly typed_ms: number | null;
  readonly stopped: "absent" | "withdrew" | "medical" | null;
  readonly lifts: readonly Lift[];
  readonly no_reps: ReadonlyMap<string, number>;
  /** What the last touch cost, if it was a no-rep or a fault: what the judge now says. */
  readonly fault: Cost | null;
  /** Who has the shared object, and how often it was handed over. */
  readonly carrier: string | null;
  readonly handed: number;
}

export function total(tally: Tally): number {
  return tally.before + sum(tally.counts);
}

export function metres(tally: Tally): number {
  const steps = tally.round?.steps ?? [];
  return tally.metres_before + sum(steps.map((step, i) => (tally.counts[i] ?? 0) * step.mark));
}

/** The step each strand is at; null where the strand is through with this round. */
export function current(tally: Tally, strand: number): PadStep | null {
  const steps = tally.round?.steps ?? [];
  const at = steps.findIndex((step, i) => step.strand === strand && !full(step, tally.counts[i]));
  return steps[at] ?? null;
}

export function doneOf(tally: Tally, step: PadStep): number {
  const at = tally.round?.steps.indexOf(step) ?? -1;
  return tally.counts[at] ?? 0;
}

export function strandsOf(tally: Tally): readonly number[] {
  return [...new Set((tally.round?.steps ?? []).map((step) => step.strand))];
}

export function fold(part: PadPart, marks: readonly Mark[]): Tally {
  return marks.reduce((tally, mark) => next(part, tally, mark), begin(part));
}

/** The tally after one more mark. */
export function next(part: PadPart, tally: Tally, mark: Mark): Tally {
  const fault = mark.does === "norep" ? (mark.cost ?? "repetition") : null;
  return { ...apply(part, tally, mark), fault };
}

// Nobody does a whole set in this time; a finger that bounces does.
const TWICE_MS = 700;

/** Whether a mark says something new: a finger that touches twice means it once. */
export function isNews(part: PadPart, marks: readonly Mark[], mark: Mark): boolean {
  const tally = fold(part, marks);
  const last = marks[marks.length - 1];
  switch (mark.does) {
    case "finish":
    case "stop":
      return tally.finished === null && tally.stopped === null;
    case "fill":
      return (
        !(last?.does === "fill" && mark.at - last.at < TWICE_MS) &&
        tally.rounds_done === mark.rounds_done && current(tally, mark.strand)?.task === mark.task
      );
    default:
      return true;
  }
}

/** The tally before the first mark. */
export function begin(part: PadPart): Tally {
  const round = part.rounds[0] ?? null;
  return {
    before: 0,
    rounds_done: 0,
    round,
    counts: zeros(round),
    metres_before: 0,
    started: null,
    split: null,
    finished: null,
    typed_ms: null,
    stopped: null,
    lifts: [],
    no_reps: new Map(),
    fault: null,
    carrier: null,
    handed: 0,
  };
}

function apply(part: PadPart, tally: Tally, mark: Mark): Tally {
  switch (mark.does) {
    case "start":
      return { ...tally, started: mark.at };
    case "count":
      return add(part, tally, mark.n, mark.strand, mark.at);
    case "fill": {
      const step = current(tally, mark.strand);
      return step === null ? tally : add(part, tally, step.counts - doneOf(tally, step), mark.strand, mark.at);
    }
    case "total":
      return retold(part, tally, mark.total, mark.at);
    case "norep":
      return { ...tally, no_reps: withOne(tally.no_reps, `${mark.task}\n${mark.reason}`) };
    case "hand":
      return { ...tally, carrier: mark.place, handed: tally.handed + (tally.carrier === null ? 0 : 1) };
    case "judge":
      return tally;
    case "split":
      return { ...tally, split: mark.at };
    case "finish":
      return { ...tally, finished: mark.at, typed_ms: mark.time_ms ?? null };
    case "lift":
      return { ...tally, lifts: [...tally.lifts, liftOf(mark)] };
    case "stop":
      return { ...tally, stopped: mark.why };
  }
}

function liftOf(mark: Extract<Mark, { does: "lift" }>): Lift {
  return { task: mark.task, amount: mark.amount, unit: mark.unit, good: mark.good };
}

/** Add counts along a strand; what is too much for a step goes on to the next one. */
function add(part: PadPart, from: Tally, n: number, strand: number, at: number): Tally {
  let tally = from;
  let left = n;
  while (left > 0 && tally.round !== null) {
    const steps = tally.round.steps;
    const here = steps.findIndex((s, i) => s.strand === strand && !full(s, tally.counts[i]));
    const step = steps[here];
    if (step === undefined) break; // this strand waits for the others
    const taken = Math.min(left, step.counts - (tally.counts[here] ?? 0));
    left -= taken;
    const counts = tally.counts.map((count, i) => (i === here ? count + taken : count));
    tally = { ...tally, counts };
    if (full(step, counts[here]) && step.split && tally.split === null && !part.split_each_round) {
      tally = { ...tally, split: at };
    }
    tally = turned(part, tally, at);
  }
  return tally;
}

/** Go on to the next round where every step of this one is done. */
function turned(part: PadPart, tally: Tally, at: number): Tally {
  const round = tally.round;
  if (round === null || !round.steps.every((step, i) => full(step, tally.counts[i]))) return tally;
  const after = round.repeats ? round : (part.rounds[part.rounds.indexOf(round) + 1] ?? null);
  return {
    ...tally,
    before: total(tally),
    metres_before: metres(tally),
    rounds_done: tally.rounds_done + 1,
    round: after,
    counts: zeros(after),
    split: part.split_each_round ? at : tally.split,
  };
}

/** The judge typed the whole count: go through the work from the start, in order. */
function retold(part: PadPart, tally: Tally, wanted: number, at: number): Tally {
  let told: Tally = { ...tally, before: 0, metres_before: 0, rounds_done: 0 };
  const first = part.rounds[0] ?? null;
  told = { ...told, round: first, counts: zeros(first) };
  const split = tally.split;
  let guard = 100_000;
  while (total(told) < wanted && told.round !== null && guard-- > 0) {
    const open = told.round.steps.find((step, i) => !full(step, told.counts[i]));
    if (open === undefined) break;
    told = add(part, told, Math.min(wanted - total(told), open.counts - doneOf(told, open)), open.strand, at);
  }
  return { ...told, split: split ?? (part.split_each_round ? null : told.split) };
}

function full(step: PadStep, count: number | undefined): boolean {
  return (count ?? 0) >= step.counts;
}

function zeros(round: PadRound | null): readonly number[] {
  return (round?.steps ?? []).map(() => 0);
}

function sum(values: readonly number[]): number {
  return values.reduce((one, other) => one + other, 0);
}

function withOne(map: ReadonlyMap<string, number>, key: string): ReadonlyMap<string, number> {
  return new Map([...map, [key, (map.get(key) ?? 0) + 1]]);
}

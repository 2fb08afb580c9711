// From a folded log to the report that is sent: the body of a `score.reported` entry.

import { logOf, type LogMark } from "./log.ts";
import { fold, metres, total, type Mark, type Tally } from "./tally.ts";
import type { LanePad, PadPart } from "./work.ts";

export interface Report {
  readonly heat: string;
  readonly workout: string;
  readonly part: string;
  readonly team: string;
  readonly lane: number;
  readonly attempt: number;
  readonly amendment: number;
  readonly source: "pad";
  readonly signed: boolean;
  readonly result: Result;
  readonly no_reps: readonly { task: string; count: number; reason: string }[];
  readonly log: readonly LogMark[];
}

export interface Result {
  readonly outcome: string;
  readonly time_ms?: number;
  readonly work?: number;
  readonly distance_m?: number;
  readonly tiebreak_ms?: number;
  readonly medical_stop?: boolean;
  readonly lifts?: readonly {
    task: string;
    mass: { amount: string; unit: "kg" | "lb" };
    good: boolean;
  }[];
}

/** When the part's own clock showed nought [ms, server]; null while nobody has started it. */
export function partZero(part: PadPart, tally: Tally, zero: number | null): number | null {
  const started = zero ?? tally.started;
  return started === null ? null : started + part.starts_ms;
}

export function resultOf(part: PadPart, tally: Tally, zero: number | null): Result {
  if (tally.stopped === "absent") return { outcome: "did_not_start" };
  if (tally.stopped === "withdrew") return { outcome: "withdrew" };
  const medical = tally.stopped === "medical" ? { medical_stop: true } : {};
  const nought = partZero(part, tally, zero);
  const split =
    // A split from before the part's own clock is none: it would rank as the best of all.
    part.split_wanted && tally.split !== null && nought !== null && tally.split >= nought
      ? { tiebreak_ms: Math.max(0, Math.round(tally.split - nought)) }
      : {};
  switch (part.kind) {
    case "time": {
      const time = tally.typed_ms ?? finishOf(tally, nought);
      if (time !== null && time <= part.cap_ms + 999 && tally.stopped === null) {
        return { outcome: "finished", time_ms: Math.max(0, Math.round(time)), ...split };
      }
      return { outcome: "capped", work: total(tally), ...split, ...medical };
    }
    case "work":
      return { outcome: "worked", work: total(tally), ...split, ...medical };
    case "distance":
      return { outcome: "covered", distance_m: metres(tally), ...split, ...medical };
    case "load":
      return {
        outcome: "lifted",
        lifts: tally.lifts.map((lift) => ({
          task: lift.task,
          mass: { amount: lift.amount, unit: lift.unit },
          good: lift.good,
        })),
        ...medical,
      };
  }
}

function finishOf(tally: Tally, nought: number | null): number | null {
  return tally.finished !== null && nought !== null ? tally.finished - nought : null;
}

export function reportOf(
  pad: LanePad,
  part: PadPart,
  marks: readonly Mark[],
  zero: number | null,
  signed: boolean,
): Report {
  const tally = fold(part, marks);
  return {
    heat: pad.heat,
    workout: pad.workout,
    part: part.id,
    team: pad.team,
    lane: pad.lane,
    attempt: pad.attempt,
    amendment: pad.amendment,
    source: "pad",
    signed,
    result: resultOf(part, tally, zero),
    no_reps: [...tally.no_reps].map(([key, count]) => {
      const [task = "", reason = ""] = key.split("\n");
      return { task, count, reason };
    }),
    log: logOf(part, marks, partZero(part, tally, zero)),
  };
}

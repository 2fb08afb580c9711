// What is worth telling at once of a touch: splits, no-reps, tries, hand-overs, the finish. The
// running count is not: it travels with the score.

import { fold, type Mark } from "./tally.ts";
import type { LanePad, PadPart } from "./work.ts";

interface Noted {
  readonly what: string;
  readonly at: number;
  readonly mark: number;
  readonly task?: string;
  readonly said?: string;
  readonly good?: boolean;
}

/** The bodies of the notes of a log that has changed from `before` to `after`: by a touch, or by an undo. */
export function notesOf(
  pad: LanePad,
  part: PadPart,
  before: readonly Mark[],
  after: readonly Mark[],
  now: number,
): readonly string[] {
  return noted(part, before, after, now).map(({ what, at, mark, task = "", said = "", good }) => {
    const data = {
      heat: pad.heat,
      workout: pad.workout,
      part: part.id,
      team: pad.team,
      lane: pad.lane,
      attempt: pad.attempt,
      amendment: pad.amendment,
      what,
      at_ms: at,
      mark,
      task,
      said: said.slice(0, 80),
      good: good ?? false,
    };
    return JSON.stringify({ kind: "lane.noted", data });
  });
}

function noted(
  part: PadPart,
  before: readonly Mark[],
  after: readonly Mark[],
  now: number,
): readonly Noted[] {
  if (before.length > after.length) {
    const told = (number: number): boolean =>
      ofMark(before[number], number).length > 0 ||
      splits(part, before.slice(0, number + 1), before.slice(0, number));
    const gone = before.map((_, number) => number).slice(after.length);
    return gone.filter(told).map((mark) => ({ what: "taken_back", at: now, mark }));
  }
  const last = after[after.length - 1];
  if (last === undefined || after.length <= before.length) return [];
  const mark = after.length - 1;
  const own = ofMark(last, mark);
  if (last.does === "split" || !splits(part, after, before)) return own;
  return [...own, { what: "split", at: last.at, mark }];
}

/** Whether `longer` has a split that `shorter` lacks: one is stamped by the count itself. */
function splits(part: PadPart, longer: readonly Mark[], shorter: readonly Mark[]): boolean {
  return part.split_wanted && fold(part, longer).split !== fold(part, shorter).split;
}

function ofMark(mark: Mark | undefined, number: number): readonly Noted[] {
  if (mark === undefined) return [];
  const { at } = mark;
  switch (mark.does) {
    case "norep":
      return [{ what: "no_rep", at, mark: number, task: mark.task, said: mark.reason }];
    case "lift":
      return [
        { what: "lift", at, mark: number, task: mark.task, said: `${mark.amount} ${mark.unit}`, good: mark.good },
      ];
    case "hand":
      return [{ what: "object", at, mark: number, task: mark.task, said: mark.place }];
    case "stop":
      return [{ what: "stop", at, mark: number, said: mark.why }];
    case "start":
    case "split":
    case "judge":
    case "finish":
      return [{ what: mark.does, at, mark: number }];
    default:
      return [];
  }
}

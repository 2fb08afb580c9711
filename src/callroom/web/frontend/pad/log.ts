// The log that travels with a score: every touch in a row of figures, by the heat's clock.

import { begin, next, total, type Mark } from "./tally.ts";
import type { PadPart } from "./work.ts";

export type LogMark = readonly [at_ms: number, does: string, n: number, task: string, said: string];

// As many as the server takes (MOST_MARKS): no judge comes near.
const MOST = 5_000;

export function logOf(part: PadPart, marks: readonly Mark[], zero: number | null): LogMark[] {
  const nought = zero ?? marks[0]?.at ?? 0;
  let tally = begin(part);
  const log = marks.map((mark): LogMark => {
    const before = total(tally);
    tally = next(part, tally, mark);
    return [Math.round(mark.at - nought), ...written(mark, total(tally) - before)];
  });
  return log.slice(-MOST);
}

function written(mark: Mark, added: number): [string, number, string, string] {
  switch (mark.does) {
    case "count":
      return ["count", added, "", ""];
    case "fill":
      return ["fill", added, mark.task, ""];
    case "total":
      return ["total", mark.total, "", ""];
    case "norep":
      return ["no_rep", 0, mark.task, mark.reason.slice(0, 80)];
    case "hand":
      return ["object", 0, mark.task, mark.place];
    case "lift":
      return ["lift", mark.good ? 1 : 0, mark.task, `${mark.amount} ${mark.unit}`];
    case "stop":
      return ["stop", 0, "", mark.why];
    default:
      return [mark.does, 0, "", ""];
  }
}

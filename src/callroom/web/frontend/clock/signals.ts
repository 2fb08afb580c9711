// When a clock gives a sign, heard and seen alike: three short ones before it starts or turns,
// a long one when it does, and a double long one at the end.

import { endOf, type Face } from "./face.ts";

export type Sign = "short" | "long" | "end";

export interface Signal {
  /** On the heat's clock [ms from its zero]. */
  readonly at_ms: number;
  readonly sign: Sign;
}

const COUNTED_MS = [3_000, 2_000, 1_000];
// Shorter stretches turn without a countdown: it would never be silent.
const LEAST_MS = 6_000;

export function signalsOf(face: Face): readonly Signal[] {
  const end = endOf(face);
  const found: Signal[] = COUNTED_MS.map((ms) => ({ at_ms: -ms, sign: "short" }));
  found.push({ at_ms: 0, sign: "long" });
  for (const span of face.spans) {
    if (span.until_ms - span.from_ms >= LEAST_MS) {
      for (const ms of COUNTED_MS) found.push({ at_ms: span.until_ms - ms, sign: "short" });
    }
    found.push({ at_ms: span.until_ms, sign: span.until_ms === end ? "end" : "long" });
  }
  return found;
}

/** The sign given last in (`before`, `now`] on the server's clock [ms]; none on a held clock. */
export function signalBetween(face: Face, before: number, now: number): Signal | null {
  if (face.held_ms !== null) return null;
  const due = signalsOf(face).filter(
    (one) => face.zero_ms + one.at_ms > before && face.zero_ms + one.at_ms <= now,
  );
  return due[due.length - 1] ?? null;
}

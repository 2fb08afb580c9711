// What a heat's clock shows at an instant: the same pure function on every screen.

export interface Span {
  readonly from_ms: number;
  readonly until_ms: number;
  readonly base_ms: number;
  readonly up: boolean;
  readonly says: string;
}

export interface Face {
  readonly zero_ms: number;
  readonly held_ms: number | null;
  readonly spans: readonly Span[];
}

export type Phase = "countdown" | "running" | "held" | "over";

export interface Shown {
  readonly phase: Phase;
  /** The time that counts: up for a time, down for everything else. */
  readonly digits: string;
  /** The same the other way round: what is left, or what has passed. */
  readonly other: string;
  readonly counts: "up" | "down";
  readonly says: string;
}

/** Whole seconds of a time that passes, as "4:07"; never below nought. */
export function passed(ms: number): string {
  return written(Math.max(0, Math.floor(ms / 1000)));
}

/** Whole seconds of a time that is left: "0:01" until the very end. */
export function left(ms: number): string {
  return written(Math.max(0, Math.ceil(ms / 1000)));
}

function written(seconds: number): string {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

export function endOf(face: Face): number {
  return face.spans[face.spans.length - 1]?.until_ms ?? 0;
}

export function show(face: Face, now: number): Shown {
  const at = (face.held_ms ?? now) - face.zero_ms;
  if (at < 0 && face.held_ms === null) return countdown(face, -at);
  const end = endOf(face);
  const over = at >= end;
  const t = Math.min(Math.max(at, 0), end);
  // The end of the last span belongs to it: a clock that is over shows its full time.
  const span =
    face.spans.find((one) => t >= one.from_ms && t < one.until_ms) ??
    face.spans[face.spans.length - 1];
  if (span === undefined) {
    return { phase: "over", digits: passed(0), other: "", counts: "up", says: "" };
  }
  const done = passed(t - span.base_ms);
  const rest = left(span.until_ms - t);
  return {
    phase: over ? "over" : face.held_ms === null ? "running" : "held",
    digits: span.up ? done : rest,
    other: span.up ? rest : done,
    counts: span.up ? "up" : "down",
    says: span.says,
  };
}

function countdown(face: Face, ms: number): Shown {
  const seconds = Math.ceil(ms / 1000);
  return {
    phase: "countdown",
    digits: seconds < 60 ? String(seconds) : written(seconds),
    other: "",
    counts: "down",
    says: face.spans[0]?.says ?? "",
  };
}

/** How long [ms] until what is shown changes: all digits turn on whole seconds from nought. */
export function untilTurn(face: Face, now: number): number {
  const into = (((now - face.zero_ms) % 1000) + 1000) % 1000;
  return 1000 - into;
}

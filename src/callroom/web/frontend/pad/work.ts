// What the server tells the pad about its lane: the same values as views/lane_pad.py.

import type { Span } from "../clock/face.ts";

/** What a no-rep costs: see NoRep in model/movement.py. */
export type Cost = "repetition" | "stretch" | "stand_still" | "attempt";

export interface PadReason {
  readonly label: string;
  readonly cost: Cost;
}

export interface PadStep {
  readonly task: string;
  readonly round_number: number;
  readonly strand: number;
  readonly says: string;
  readonly minds: readonly string[];
  readonly counts: number;
  readonly mark: number;
  readonly unit: "reps" | "metres" | "calories" | "seconds" | "lift";
  readonly carried: boolean;
  readonly split: boolean;
}

export interface PadRound {
  readonly block: string;
  readonly name: string;
  readonly number: number;
  readonly of: number;
  readonly steps: readonly PadStep[];
  readonly repeats: boolean;
}

export interface PadLift {
  readonly task: string;
  readonly says: string;
  readonly tries: number;
}

export interface PadPart {
  readonly id: string;
  readonly name: string;
  readonly kind: "time" | "work" | "load" | "distance";
  readonly cap_ms: number;
  readonly starts_ms: number;
  readonly total: number | null;
  readonly rounds: readonly PadRound[];
  readonly lifts: readonly PadLift[];
  readonly split_wanted: boolean;
  readonly split_each_round: boolean;
}

/** A later heat in the same lane. */
export interface PadNext {
  readonly path: string;
  readonly heat_number: number;
  readonly workout_name: string;
  readonly team_name: string;
}

export interface LanePad {
  readonly heat: string;
  readonly heat_number: number;
  readonly workout: string;
  readonly workout_name: string;
  readonly floor: string;
  readonly lane: number;
  readonly team: string;
  readonly team_name: string;
  readonly division: string;
  readonly attempt: number;
  readonly amendment: number;
  readonly revision: number;
  readonly start_ms: number;
  readonly mass_unit: "kg" | "lb";
  readonly parts: readonly PadPart[];
  readonly reasons: Readonly<Record<string, readonly PadReason[]>>;
  readonly places: readonly string[];
  readonly line_up: readonly string[];
  readonly clock: readonly Span[];
  readonly card: string;
  readonly next: readonly PadNext[];
  readonly rehearsal: boolean;
}

export interface PadRuling {
  readonly number: number;
  readonly seq: number;
  readonly about: string;
  readonly question: string;
  readonly answer: string;
  readonly withdrawn: boolean;
}

/** Another phone that has this lane open, and what its count shows. */
export interface PadOther {
  readonly part: string;
  readonly done: number;
}

export interface PadNow {
  readonly now_ms: number;
  readonly stage: string;
  readonly zero_ms: number | null;
  readonly held_ms: number | null;
  readonly stopped: string;
  readonly attempt: number;
  readonly amendment: number;
  readonly team: string;
  readonly revision: number;
  readonly other_reports: number;
  readonly others: readonly PadOther[];
  /** How many laptops have had this book, the present one included. */
  readonly generation: number;
  readonly rulings: readonly PadRuling[];
  readonly line_up: readonly string[];
}

/** Where one lane's log is kept on the phone; an amended workout is counted from nought. */
export function laneKey(pad: LanePad): string {
  const key = [pad.heat, String(pad.lane), pad.team, String(pad.attempt)];
  if (pad.amendment > 0) key.push(`amended-${pad.amendment}`);
  return key.join("/");
}

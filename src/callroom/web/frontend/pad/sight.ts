// What every part of the pad's screen is given, and what a touch may do.

import type { Mark } from "./tally.ts";
import type { LanePad, PadPart } from "./work.ts";
import type { Words } from "./words.ts";

export interface Hands {
  /** Add one mark; it is shown once the phone has kept it. */
  readonly mark: (mark: Mark) => void;
  readonly undo: () => void;
  readonly send: (signed: boolean, initials: string) => void;
  readonly now: () => number;
  readonly redraw: () => void;
  /** Ask where the server has moved to. */
  readonly moved: () => void;
}

/** What the judge has opened on the screen; no part of the count. */
export interface Looks {
  strand: number;
  reasons: boolean;
  sending: boolean;
  more: boolean;
  lift: string;
  signed: boolean;
  initials: string;
  moved: boolean;
  address: string;
}

export interface Sight {
  readonly pad: LanePad;
  readonly part: PadPart;
  readonly marks: readonly Mark[];
  readonly zero: number | null;
  /** This phone does not know the time well enough to stamp a finish. */
  readonly doubtful: boolean;
  /** The clock was stopped, or is past its end: nobody finishes any more. */
  readonly ended: boolean;
  readonly looks: Looks;
  readonly hands: Hands;
  readonly words: Words;
}

// A device's idea of the server's time: from when an answer was asked for and came, and what
// the server's clock showed. It is wrong by at most half the time the answer took on its way,
// and by a little more the longer ago that was.

// Clocks of phones run true to some 50 parts in a million; twice that, to be on the safe side.
const DRIFT = 1e-4;
// The server tells whole milliseconds.
const WHOLE_MS = 1;
const KEPT = 24;
// A phone that slept may have stopped its steady clock: what was learnt before is void.
const SLEPT_MS = 250;

interface Reading {
  /** What the server's clock shows when the device's shows nought [ms]. */
  readonly offset: number;
  readonly trip: number;
  readonly at: number;
}

export class SyncedClock {
  /** How fast the server's clock runs; a practice run has a faster one. */
  speed = 1;
  /** By how much the server's clock was set since, or differs with another server [ms]. */
  jumped = 0;
  private readings: readonly Reading[] = [];
  private skew = wallSkew();

  /** Note one answer: sent and received by the device's clock, and what the server's showed. */
  note(sent: number, received: number, server: number, speed = 1): void {
    const slept = Math.abs(wallSkew() - this.skew) > SLEPT_MS;
    if (slept || speed !== this.speed) this.readings = [];
    this.skew = wallSkew();
    this.speed = speed;
    const reading = {
      offset: server + WHOLE_MS / 2 - speed * ((sent + received) / 2),
      trip: Math.max(0, received - sent),
      at: received,
    };
    const best = this.best(received);
    if (best !== null) {
      const apart = Math.abs(reading.offset - best.offset);
      // Both cannot be right: the clock over there is not the one it was.
      if (apart > this.doubt(reading, received) + this.doubt(best, received)) {
        this.readings = [];
        this.jumped += reading.offset - best.offset;
      }
    }
    this.readings = [...this.readings.slice(1 - KEPT), reading];
  }

  /** Go on from what was known before this page was opened, by the device's own clock. */
  restore(offset: number, error: number, at: number): void {
    if (!this.known && at <= steadyNow()) {
      this.readings = [{ offset, trip: 2 * Math.max(0, error - WHOLE_MS), at }];
    }
  }

  /** Whether the server has ever been heard. */
  get known(): boolean {
    return this.readings.length > 0;
  }

  /** How far the time may be off [ms]; null while the server was never heard. */
  get error(): number | null {
    const at = steadyNow();
    const best = this.best(at);
    return best === null ? null : Math.ceil(this.doubt(best, at));
  }

  /** What the server's clock is ahead of this device's [ms]; nought while it is not known. */
  get offset(): number {
    return this.best(steadyNow())?.offset ?? 0;
  }

  /** The server's time now [ms]; the device's own while nothing better is known. */
  now(): number {
    const at = steadyNow();
    const best = this.best(at);
    return best === null ? at : best.offset + this.speed * at;
  }

  private best(at: number): Reading | null {
    return this.readings.reduce<Reading | null>(
      (best, one) => (best === null || this.doubt(one, at) <= this.doubt(best, at) ? one : best),
      null,
    );
  }

  private doubt(reading: Reading, at: number): number {
    return this.speed * (reading.trip / 2 + Math.abs(at - reading.at) * DRIFT) + WHOLE_MS;
  }
}

/** The device's time [ms since 1970] on a clock that nobody can set back while counting. */
export function steadyNow(): number {
  return performance.timeOrigin + performance.now();
}

function wallSkew(): number {
  return Date.now() - steadyNow();
}

// The phone's idea of the server's time: the offset seen in the quickest of recent answers,
// wrong by at most half that answer's round trip.

export class SyncedClock {
  private samples: { readonly offset: number; readonly trip: number }[] = [];
  private skew = wallSkew();

  /** Note one answer: sent and received by the phone's clock, and what the server's showed. */
  note(sent: number, received: number, server: number): void {
    // A phone that slept may have stopped its steady clock: what was learnt before is void.
    if (Math.abs(wallSkew() - this.skew) > 250) this.samples = [];
    this.skew = wallSkew();
    const trip = received - sent;
    this.samples = [...this.samples.slice(-11), { offset: server - (sent + received) / 2, trip }];
  }

  /** Whether the server has ever been heard. */
  get known(): boolean {
    return this.samples.length > 0;
  }

  /** How far the time may be off [ms]; null while the server was never heard. */
  get error(): number | null {
    return this.best === null ? null : Math.ceil(this.best.trip / 2);
  }

  /** The server's time now [ms]; the phone's own while nothing better is known. */
  now(): number {
    return Math.round(steadyNow() + (this.best?.offset ?? 0));
  }

  /** The phone's clock minus the server's [ms], for the record. */
  ahead(): number {
    return Math.round(-(this.best?.offset ?? 0));
  }

  private get best(): { readonly offset: number; readonly trip: number } | null {
    return this.samples.reduce<{ readonly offset: number; readonly trip: number } | null>(
      (best, sample) => (best === null || sample.trip < best.trip ? sample : best),
      null,
    );
  }
}

/** The phone's time [ms since 1970] on a clock that nobody can set back while counting. */
export function steadyNow(): number {
  return performance.timeOrigin + performance.now();
}

function wallSkew(): number {
  return Date.now() - steadyNow();
}

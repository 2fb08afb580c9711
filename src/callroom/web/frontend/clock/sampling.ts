// Asking the server for the time: a few times at once, then now and then for as long as the
// page is open, so that the clock stays in step and says honestly how far it may be off.

import { steadyNow, type SyncedClock } from "./synced.ts";

const BURST = 8;
const BURST_GAP_MS = 120;
const LATER_MS = 10_000;
const PATIENCE_MS = 4_000;

let asked = 0;

/** Ask once; whether an answer came. */
export async function sample(clock: SyncedClock): Promise<boolean> {
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), PATIENCE_MS);
  asked += 1;
  const address = new URL(`/time?${asked}`, location.href).href;
  try {
    const sent = steadyNow();
    const answer = await fetch(address, { cache: "no-store", signal: patience.signal });
    const received = steadyNow();
    const said: unknown = await answer.json();
    if (!answer.ok || typeof said !== "object" || said === null || !("now_ms" in said)) {
      return false;
    }
    const speed = "speed" in said ? Number(said.speed) : 1;
    const [from, until] = onTheWire(address) ?? [sent, received];
    clock.note(from, until, Number(said.now_ms), speed);
    return true;
  } catch {
    return false;
  } finally {
    clearTimeout(timer);
  }
}

/** When the question left and its answer came [ms], without the browser's own waiting. */
function onTheWire(address: string): readonly [number, number] | null {
  const [last] = performance.getEntriesByName(address, "resource").slice(-1);
  performance.clearResourceTimings();
  if (!(last instanceof PerformanceResourceTiming)) return null;
  if (last.requestStart <= 0 || last.responseStart < last.requestStart) return null;
  return [performance.timeOrigin + last.requestStart, performance.timeOrigin + last.responseStart];
}

/** Keep a clock in step while `wanted` says so; `heard` is told after each try. */
export function keepInStep(clock: SyncedClock, wanted: () => boolean, heard: () => void): void {
  let left = BURST;
  const look = async (): Promise<void> => {
    if (wanted()) {
      const answered = await sample(clock);
      if (answered && left > 0) left -= 1;
      heard();
    }
    setTimeout(() => void look(), left > 0 && wanted() ? BURST_GAP_MS * (clock.known ? 1 : 8) : LATER_MS);
  };
  // After a sleep or a hole in the network, quickly and several times again.
  const anew = (): void => {
    left = BURST;
    if (wanted()) void sample(clock).then(heard);
  };
  document.addEventListener("visibilitychange", () => !document.hidden && anew());
  addEventListener("online", anew);
  void look();
}

// Running clocks: every [data-clock] shows the time since its zero, by the server's clock.

const SAMPLE_MS = 5_000;
const TICK_MS = 250;

interface Sample {
  readonly server: number;
  readonly local: number;
}

let last: Sample | null = null;
// In a practice run the server's clock runs faster than ours.
let rate = 1;

async function sample(): Promise<void> {
  const asked = performance.now();
  const answer = await fetch("/time", { cache: "no-store" });
  const said: unknown = await answer.json();
  const local = (asked + performance.now()) / 2;
  if (typeof said !== "object" || said === null || !("now_ms" in said)) return;
  const server = Number(said.now_ms);
  if (last !== null && local - last.local > 1000) {
    rate = Math.max(0, (server - last.server) / (local - last.local));
  }
  last = { server, local };
}

function serverNow(): number | null {
  return last === null ? null : last.server + (performance.now() - last.local) * rate;
}

function written(passedMs: number): string {
  const seconds = Math.max(0, Math.floor(passedMs / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

function tick(): void {
  const now = serverNow();
  if (now === null) return;
  for (const clock of document.querySelectorAll<HTMLElement>("[data-clock]")) {
    const capMs = Number(clock.dataset["cap"]) * 1000;
    clock.textContent = written(Math.min(now - Number(clock.dataset["clock"]), capMs));
    clock.classList.add("running");
  }
}

export function startClocks(): void {
  const needed = (): boolean => !document.hidden && document.querySelector("[data-clock]") !== null;
  const look = (): void => {
    // Without the network the clocks go on by the last sample.
    if (needed()) sample().catch(() => undefined);
  };
  look();
  setInterval(look, SAMPLE_MS);
  setInterval(tick, TICK_MS);
}

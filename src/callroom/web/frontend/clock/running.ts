// The clocks of a page, in step with the server: every [data-clock] shows the time since its
// zero up to its cap, every [data-face] the whole clock of a heat with its signs.

import { DOUBTFUL_MS } from "./doubt.ts";
import { left, passed, show, untilTurn, type Face } from "./face.ts";
import { keepInStep } from "./sampling.ts";
import { signalBetween, type Sign } from "./signals.ts";
import { SyncedClock } from "./synced.ts";

const LONGEST_WAIT_MS = 200;
const LEAST_WAIT_MS = 8;
// A sign that comes later than this is none: the page slept through it.
const STALE_MS = 800;
const SEEN_MS: Readonly<Record<Sign, number>> = { short: 250, long: 1_000, end: 2_000 };

/** The one clock of this page. */
export const clock = new SyncedClock();

let before: number | null = null;
let heardSign: (sign: Sign) => void = () => undefined;

/** Have `give` called with every sign of a [data-face]. */
export function onSign(give: (sign: Sign) => void): void {
  heardSign = give;
}

function faceOf(place: HTMLElement): Face {
  return JSON.parse(place.dataset["face"] ?? "") as Face;
}

function drawSmall(place: HTMLElement, now: number): void {
  const ms = now - Number(place.dataset["clock"]);
  const capMs = Number(place.dataset["cap"]) * 1000;
  const about = (clock.error ?? 0) > DOUBTFUL_MS ? "≈ " : "";
  place.textContent = about + (ms < 0 ? `−${left(-ms)}` : passed(Math.min(ms, capMs)));
  place.classList.add("running");
}

function put(place: HTMLElement, name: string, text: string): void {
  const part = place.querySelector<HTMLElement>(`[data-${name}]`);
  if (part !== null && part.textContent !== text) part.textContent = text;
}

function drawFace(place: HTMLElement, face: Face, now: number): void {
  const shown = show(face, now);
  place.dataset["phase"] = shown.phase;
  put(place, "digits", shown.digits);
  const other = place.querySelector<HTMLElement>("[data-other]");
  const wording = other?.dataset[shown.counts === "up" ? "rest" : "done"] ?? "{time}";
  put(place, "other", shown.other === "" ? "" : wording.replace("{time}", shown.other));
  put(place, "says", shown.says);
  const sign = before === null ? null : signalBetween(face, Math.max(before, now - STALE_MS), now);
  if (sign === null) return;
  place.dataset["sign"] = sign.sign;
  setTimeout(() => delete place.dataset["sign"], SEEN_MS[sign.sign]);
  heardSign(sign.sign);
}

function drawTimeOfDay(place: HTMLElement, now: number): void {
  const format = new Intl.DateTimeFormat("en-GB", {
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
    timeZone: place.dataset["zone"] ?? "UTC",
  });
  place.textContent = format.format(new Date(now));
}

/** Show the time in every clock of the page; how long until one of them turns [ms]. */
export function drawClocks(): number {
  let wait = LONGEST_WAIT_MS;
  if (!clock.known || document.hidden) {
    before = null;
    return wait;
  }
  const now = clock.now();
  for (const place of document.querySelectorAll<HTMLElement>("[data-clock]")) drawSmall(place, now);
  for (const place of document.querySelectorAll<HTMLElement>("[data-face]")) {
    const face = faceOf(place);
    drawFace(place, face, now);
    wait = Math.min(wait, untilTurn(face, now) / Math.max(clock.speed, 1));
  }
  for (const place of document.querySelectorAll<HTMLElement>("[data-zone]")) {
    drawTimeOfDay(place, now);
  }
  before = now;
  return wait;
}

function tick(): void {
  // On the turn of a second, or soon: what the server sends may have changed the zero.
  setTimeout(tick, Math.max(drawClocks(), LEAST_WAIT_MS));
}

/** Run the clocks of this page for as long as it is open; `heard` is told of every sample. */
export function startClocks(heard: () => void = () => undefined): void {
  const wanted = (): boolean =>
    !document.hidden &&
    document.querySelector("[data-clock], [data-face], [data-zone], [data-step]") !== null;
  keepInStep(clock, wanted, heard);
  tick();
}

// Keeps the live parts of a page as the server has them, over server-sent events.

import { drawClocks, startClocks } from "../clock/running.ts";
import { sayStep } from "../clock/step.ts";
import { climb, figureIn } from "../rise.ts";
import { whenUntouched } from "../touch.ts";

// A stalled link raises no error. The server gives a beat every 5 s; after three missing ones
// the stream is opened anew.
const SILENCE_MS = 15_000;
const LOOK_MS = 2_000;

class LivePart {
  private readonly place: HTMLElement;
  private readonly state: HTMLElement | null;
  private source: EventSource | null = null;
  private heardAt = 0;
  private html = "";
  private readonly show = (): void => show(this.place, this.html);

  constructor(place: HTMLElement, state: HTMLElement | null) {
    this.place = place;
    this.state = state;
  }

  open(): void {
    this.close();
    const { live = "", seen = "" } = this.place.dataset;
    this.source = new EventSource(`/live/${live}?after=${seen}`);
    this.source.onopen = () => this.heard();
    this.source.onmessage = (event: MessageEvent<string>) => {
      this.place.dataset["seen"] = event.lastEventId;
      this.html = event.data;
      whenUntouched(this.show);
      this.heard();
    };
    this.source.addEventListener("beat", () => this.heard());
    this.source.onerror = () => this.lost();
    this.heardAt = performance.now();
  }

  close(): void {
    this.source?.close();
    this.source = null;
  }

  // EventSource tries again by itself, except after an answer it takes for final.
  look(): void {
    const silent = performance.now() - this.heardAt > SILENCE_MS;
    if (silent || this.source?.readyState === EventSource.CLOSED) {
      this.lost();
      this.open();
    }
  }

  private heard(): void {
    this.heardAt = performance.now();
    if (this.state !== null) this.state.hidden = true;
  }

  private lost(): void {
    if (this.state === null || !this.state.hidden) return;
    const time = new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
    this.state.textContent = (this.state.dataset["lost"] ?? "").replace("{time}", time);
    this.state.hidden = false;
  }
}

// Puts the new content in; whoever works by keyboard stays on the same button or link.
function show(place: HTMLElement, html: string): void {
  const held = place.contains(document.activeElement) ? document.activeElement : null;
  const mark = held === null ? null : markOf(held);
  const stood = figureIn(place);
  place.innerHTML = html;
  climb(place, stood);
  drawClocks();
  if (mark === null) return;
  const keys = [...place.querySelectorAll<HTMLElement>("[value], [href]")];
  const same = keys.find((one) => markOf(one) === mark);
  same?.focus({ preventScroll: true });
}

// What a key does and to whom, without the entry that its page had seen last.
function markOf(key: Element): string | null {
  const value = key.getAttribute("value") ?? key.getAttribute("href");
  return value?.split("|").slice(0, 3).join("|") ?? null;
}

const parts = [...document.querySelectorAll<HTMLElement>("[data-live]")].map(
  (place) =>
    new LivePart(place, place.parentElement?.querySelector<HTMLElement>("[data-live-state]") ?? null),
);
const openAll = (): void => parts.forEach((part) => part.open());
const closeAll = (): void => parts.forEach((part) => part.close());

if (!document.hidden) openAll();
// Only the page in sight holds a stream: a browser allows six to one host.
document.addEventListener("visibilitychange", () => (document.hidden ? closeAll() : openAll()));
window.addEventListener("pagehide", closeAll);
setInterval(() => {
  if (!document.hidden) parts.forEach((part) => part.look());
}, LOOK_MS);
startClocks(sayStep);
setInterval(sayStep, LOOK_MS);

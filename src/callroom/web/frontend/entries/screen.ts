// The hall screen: shows one turn at a time, goes on by itself, and tells the time of day.
//
// Names of parts behind the address (/screen#floor,next) keep a screen to those parts. Space
// holds a turn, the arrow keys go on and back.

const LOOK_MS = 250;
const TIME_SAMPLE_MS = 10_000;

const place = document.querySelector<HTMLElement>("[data-live]");
const wall = document.querySelector<HTMLElement>("[data-wall]");
let shown = "";
let at = 0;
let since = performance.now();
let held = false;
// How far the server's clock is from this machine's; a practice run has a time of its own.
let ahead = 0;

function turns(): HTMLElement[] {
  const all = [...document.querySelectorAll<HTMLElement>("[data-turn]")];
  const wanted = decodeURIComponent(location.hash.slice(1)).split(",").filter(Boolean);
  const chosen = all.filter((turn) => wanted.includes(turn.dataset["part"] ?? ""));
  // Never an empty screen: if none of the wanted parts has anything to show, all take turns.
  return chosen.length > 0 ? chosen : all;
}

function show(list: HTMLElement[], index: number): void {
  const turn = list[(index + list.length) % list.length];
  if (turn === undefined) return;
  at = list.indexOf(turn);
  shown = turn.dataset["turn"] ?? "";
  for (const one of document.querySelectorAll<HTMLElement>("[data-turn]")) one.hidden = one !== turn;
}

// New content came, or the address changed: stay with the turn in sight if it is still there.
function stay(): void {
  const list = turns();
  const same = list.findIndex((turn) => turn.dataset["turn"] === shown);
  show(list, same >= 0 ? same : Math.min(at, list.length - 1));
}

function go(step: number): void {
  since = performance.now();
  show(turns(), at + step);
}

function eachMs(): number {
  const each = document.querySelector<HTMLElement>("[data-each]")?.dataset["each"];
  return 1000 * Number(each ?? 12);
}

function tellTime(): void {
  if (wall === null) return;
  const zone = wall.dataset["wall"] ?? "UTC";
  const now = new Date(Date.now() + ahead);
  const [hour, minute] = ["hour", "minute"].map(
    (kind) =>
      new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: zone })
        .formatToParts(now)
        .find((part) => part.type === kind)?.value ?? "",
  );
  wall.textContent = `${hour}:${minute}`;
}

async function askTime(): Promise<void> {
  const answer = await fetch("/time", { cache: "no-store" });
  const said: unknown = await answer.json();
  if (typeof said === "object" && said !== null && "now_ms" in said) {
    ahead = Number(said.now_ms) - Date.now();
  }
}

function askAgain(): void {
  // Without the network the time goes on by the last answer.
  askTime().then(tellTime, tellTime);
}

document.addEventListener("keydown", (event) => {
  if (event.key === " ") held = !held;
  else if (event.key === "ArrowRight") go(1);
  else if (event.key === "ArrowLeft") go(-1);
  else return;
  event.preventDefault();
});
window.addEventListener("hashchange", stay);
if (place !== null) new MutationObserver(stay).observe(place, { childList: true });
stay();
askAgain();
setInterval(askAgain, TIME_SAMPLE_MS);
setInterval(() => {
  tellTime();
  if (!held && performance.now() - since >= eachMs()) go(1);
}, LOOK_MS);

// Arriving at a server's new address: keep first what was brought along, then show who this
// phone is, then go on where the judge was.

import { Keeping } from "../pad/keeping.ts";
import { read, unpack, type Parcel } from "../pad/parcel.ts";

const BROUGHT = "callroom-brought";

function say(name: string): void {
  for (const text of document.querySelectorAll<HTMLElement>("[data-says]")) {
    text.hidden = text.dataset["says"] !== name;
  }
}

/** First page: it was reached from another address, so the browser tells nobody who we are. */
async function arrive(): Promise<void> {
  const parcel = read(location.hash.slice(1));
  if (parcel === null) {
    say("empty");
    return;
  }
  await unpack(await Keeping.open(), parcel);
  const { device, proof, path } = parcel;
  sessionStorage.setItem(BROUGHT, JSON.stringify({ device, proof, path }));
  // Without the parcel in it, so that going back or looking over a shoulder finds nothing.
  location.replace("/carry/in");
}

/** Second page: our own cookie is sent, if this phone has been here before. */
async function identify(root: HTMLElement): Promise<void> {
  const said = JSON.parse(sessionStorage.getItem(BROUGHT) ?? "{}") as Partial<Parcel>;
  const path = said.path !== undefined && /^\/pad(\/|$)/.test(said.path) ? said.path : "/pad";
  if (root.dataset["role"] === "public") {
    const body = new URLSearchParams({
      form_token: root.dataset["formToken"] ?? "",
      proof: said.proof ?? "",
    });
    const answer = await fetch("/carry/in", { method: "POST", body });
    if (!answer.ok) {
      say("code");
      return;
    }
  }
  sessionStorage.removeItem(BROUGHT);
  location.replace(path);
}

async function begin(): Promise<void> {
  const root = document.querySelector<HTMLElement>("[data-carry]");
  if (root === null) return;
  try {
    await (root.dataset["carry"] === "arrive" ? arrive() : identify(root));
  } catch {
    say("failed");
  }
}

void begin();

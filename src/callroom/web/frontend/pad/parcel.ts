// What a phone takes with it when the server is found at another address. A browser keeps things
// by address, so they travel in the part of a link that is never sent to any server.

import { lastOf, type Keeping, type LastHeard, type Waiting } from "./keeping.ts";
import type { Mark } from "./tally.ts";

export interface Parcel {
  /** As which device these were made, and what proves it to a server with the same book. */
  readonly device: string;
  readonly proof: string;
  /** The page to go on with. */
  readonly path: string;
  readonly waiting: readonly Waiting[];
  readonly logs: readonly (readonly [key: string, marks: readonly Mark[]])[];
  readonly heard: readonly (readonly [lane: string, heard: LastHeard])[];
}

/** Counts of earlier today are done with; what was touched lately may still go on. */
const LATELY_MS = 3 * 3600 * 1000;

/** Pack what waits and what is being counted on this phone. */
export async function pack(
  keeping: Keeping,
  own: Pick<Parcel, "device" | "proof" | "path">,
  lane: string,
  now: number,
): Promise<Parcel> {
  const all = await keeping.all();
  const arrived = lastOf(all.filter((one) => one.state === "delivered"));
  // What arrived last may be missing in the copy that the other laptop has: it goes along too.
  const waiting = all.filter((one) => one.state !== "delivered" || arrived.includes(one));
  const logs = [...(await keeping.logs())].filter(
    ([, marks]) => (marks[marks.length - 1]?.at ?? 0) > now - LATELY_MS,
  );
  const heard = await keeping.heard(lane);
  return {
    ...own,
    waiting: waiting.map((one) => ({
      ...one,
      state: one.state === "delivered" ? "waiting" : one.state,
      made_by: one.made_by ?? own.device,
    })),
    logs,
    heard: heard === null ? [] : [[lane, heard]],
  };
}

export function written(parcel: Parcel): string {
  const bytes = new TextEncoder().encode(JSON.stringify(parcel));
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

/** The parcel in a link's last part; null if there is none, or it was damaged. */
export function read(text: string): Parcel | null {
  try {
    const plain = atob(text.replace(/-/g, "+").replace(/_/g, "/"));
    const bytes = Uint8Array.from(plain, (sign) => sign.charCodeAt(0));
    const said: unknown = JSON.parse(new TextDecoder().decode(bytes));
    return isParcel(said) ? said : null;
  } catch {
    return null;
  }
}

function isParcel(said: unknown): said is Parcel {
  if (typeof said !== "object" || said === null) return false;
  const parcel = said as Record<string, unknown>;
  const texts = ["device", "proof", "path"].every((name) => typeof parcel[name] === "string");
  const lists = ["waiting", "logs", "heard"].every((name) => Array.isArray(parcel[name]));
  if (!texts || !lists) return false;
  return (parcel["waiting"] as unknown[]).every(isWaiting);
}

function isWaiting(one: unknown): boolean {
  if (typeof one !== "object" || one === null) return false;
  const waiting = one as Record<string, unknown>;
  return ["key", "body", "says", "state"].every((name) => typeof waiting[name] === "string");
}

/** Keep here what came in a parcel; what is here already stays as it is. */
export async function unpack(keeping: Keeping, parcel: Parcel): Promise<void> {
  await keeping.takeIn(parcel.waiting, new Map(parcel.logs));
  for (const [lane, heard] of parcel.heard) {
    if ((await keeping.heard(lane)) === null) await keeping.keepHeard(lane, heard);
  }
}

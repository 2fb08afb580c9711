// What the phone keeps: the log of each lane, and what waits to be sent. Everything is on
// the phone before it is shown as counted, and only what the server has acknowledged is done.

import type { Mark } from "./tally.ts";
import type { PadNow } from "./work.ts";

export interface Waiting {
  readonly order?: number;
  readonly key: string;
  readonly body: string;
  /** In plain figures, to be read out; empty for notes, which nobody has to read. */
  readonly says: string;
  readonly state: "waiting" | "delivered" | "refused";
  readonly answer: string;
  /** The device as which this was made: another one than now if the phone joined anew. */
  readonly made_by?: string;
}

/** What the server said last of a lane, and what was known of its clock then. */
export interface LastHeard {
  readonly now: PadNow;
  /** How far the server's clock has been set since the zero was told [ms]. */
  readonly jumped: number;
  readonly offset: number;
  readonly error: number;
  readonly at: number;
}

const NAME = "callroom-pad";
const LOGS = "logs";
const OUTBOX = "outbox";
const HEARD = "heard/";
const GENERATION = `${HEARD}generation`;
// Some hours of one lane: more than any copy of the book is behind.
const SCORES_KEPT = 12;
const NOTES_KEPT = 150;

export class Keeping {
  private readonly db: IDBDatabase;

  private constructor(db: IDBDatabase) {
    this.db = db;
  }

  static open(): Promise<Keeping> {
    return new Promise((resolve, reject) => {
      const asked = indexedDB.open(NAME, 1);
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore(LOGS);
        asked.result.createObjectStore(OUTBOX, { keyPath: "order", autoIncrement: true });
      };
      asked.onsuccess = () => resolve(new Keeping(asked.result));
      asked.onerror = () => reject(asked.error ?? new Error("the phone keeps nothing"));
      asked.onblocked = () => reject(new Error("another tab holds an older page open"));
    });
  }

  async log(key: string): Promise<Mark[]> {
    const kept: unknown = await this.ask(LOGS, "readonly", (store) => store.get(key));
    return Array.isArray(kept) ? (kept as Mark[]) : [];
  }

  /** Every lane's log on this phone, by its key. */
  async logs(): Promise<Map<string, Mark[]>> {
    const keys = (await this.ask(LOGS, "readonly", (store) => store.getAllKeys())) as string[];
    const values = (await this.ask(LOGS, "readonly", (store) => store.getAll())) as Mark[][];
    const found = keys.map((key, i): [string, Mark[]] => [key, values[i] ?? []]);
    return new Map(found.filter(([key]) => !key.startsWith(HEARD)));
  }

  /** Keep a log, and with it what is to be sent of it: both or neither. */
  async keepLog(key: string, marks: readonly Mark[], notes: readonly Waiting[] = []): Promise<void> {
    await this.change([LOGS, OUTBOX], (logs, outbox) => {
      logs.put([...marks], key);
      for (const note of notes) outbox.add(note);
    });
  }

  async heard(lane: string): Promise<LastHeard | null> {
    const kept: unknown = await this.ask(LOGS, "readonly", (store) => store.get(HEARD + lane));
    return kept === undefined ? null : (kept as LastHeard);
  }

  async keepHeard(lane: string, heard: LastHeard): Promise<void> {
    await this.change([LOGS], (logs) => logs.put(heard, HEARD + lane));
  }

  async add(waiting: Waiting): Promise<void> {
    await this.change([OUTBOX], (outbox) => outbox.add(waiting));
  }

  /** Take in what another address kept: nothing twice, a longer log before a shorter one. */
  async takeIn(waiting: readonly Waiting[], logs: ReadonlyMap<string, readonly Mark[]>): Promise<void> {
    const known = new Set((await this.all()).map((one) => one.key));
    const mine = await this.logs();
    await this.change([LOGS, OUTBOX], (kept, outbox) => {
      for (const { order: _order, ...one } of waiting) if (!known.has(one.key)) outbox.add(one);
      for (const [key, marks] of logs) {
        if (marks.length > (mine.get(key)?.length ?? 0)) kept.put([...marks], key);
      }
    });
  }

  async put(waiting: Waiting): Promise<void> {
    await this.change([OUTBOX], (outbox) => outbox.put(waiting));
  }

  /** Let go of what was delivered long ago. */
  async tidy(): Promise<void> {
    const done = (await this.all()).filter((one) => one.state === "delivered");
    const kept = new Set(lastOf(done));
    await this.change([OUTBOX], (outbox) => {
      for (const one of done) {
        if (!kept.has(one) && one.order !== undefined) outbox.delete(one.order);
      }
    });
  }

  /** The generation of the book that was heard of last; 0: none. */
  async generation(): Promise<number> {
    return Number((await this.ask(LOGS, "readonly", (store) => store.get(GENERATION))) ?? 0);
  }

  /**
   * Another laptop carries on from a copy, which may lack what arrived last: send that again.
   * The book knows what it has by its key, so nothing counts twice.
   */
  async carriedOn(generation: number): Promise<void> {
    const again = lastOf((await this.all()).filter((one) => one.state === "delivered"));
    await this.change([OUTBOX, LOGS], (outbox, logs) => {
      for (const one of again) outbox.put({ ...one, state: "waiting" });
      logs.put(generation, GENERATION);
    });
  }

  async keepGeneration(generation: number): Promise<void> {
    await this.change([LOGS], (logs) => logs.put(generation, GENERATION));
  }

  async all(): Promise<Waiting[]> {
    const kept: unknown = await this.ask(OUTBOX, "readonly", (store) => store.getAll());
    return kept as Waiting[];
  }

  private async change(
    names: readonly string[],
    work: (first: IDBObjectStore, second: IDBObjectStore) => unknown,
  ): Promise<void> {
    await this.within(names, "readwrite", (stores) => {
      const [first, second = first] = stores;
      if (first !== undefined && second !== undefined) work(first, second);
      return null;
    });
  }

  private ask(
    name: string,
    mode: IDBTransactionMode,
    work: (store: IDBObjectStore) => IDBRequest,
  ): Promise<unknown> {
    return this.within([name], mode, ([store]) => (store === undefined ? null : work(store)));
  }

  private within(
    names: readonly string[],
    mode: IDBTransactionMode,
    work: (stores: IDBObjectStore[]) => IDBRequest | null,
  ): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const transaction = this.db.transaction([...names], mode, { durability: "strict" });
      const request = work(names.map((name) => transaction.objectStore(name)));
      // Done is when the transaction is on the phone's disk, not when the request succeeded.
      transaction.oncomplete = () => resolve(request?.result);
      transaction.onerror = () => reject(transaction.error ?? new Error("not kept"));
      transaction.onabort = () => reject(transaction.error ?? new Error("not kept"));
    });
  }
}

/** What was delivered last, and may be missing in a copy of the book. */
export function lastOf(delivered: readonly Waiting[]): readonly Waiting[] {
  const scores = delivered.filter((one) => one.says !== "").slice(-SCORES_KEPT);
  const notes = delivered.filter((one) => one.says === "").slice(-NOTES_KEPT);
  return delivered.filter((one) => scores.includes(one) || notes.includes(one));
}

/** A key no other request has; there is no randomUUID on a page served over plain http. */
export function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

// What the phone keeps: the log of each lane, and what waits to be sent. Everything is on
// the phone before it is shown as counted, and only what the server has acknowledged is done.

import type { Mark } from "./tally.ts";

export interface Waiting {
  readonly order?: number;
  readonly key: string;
  readonly body: string;
  readonly says: string;
  readonly state: "waiting" | "delivered" | "refused";
  readonly answer: string;
}

const NAME = "callroom-pad";
const LOGS = "logs";
const OUTBOX = "outbox";

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

  async keepLog(key: string, marks: readonly Mark[]): Promise<void> {
    await this.ask(LOGS, "readwrite", (store) => store.put([...marks], key));
  }

  async add(waiting: Waiting): Promise<void> {
    await this.ask(OUTBOX, "readwrite", (store) => store.add(waiting));
  }

  async put(waiting: Waiting): Promise<void> {
    await this.ask(OUTBOX, "readwrite", (store) => store.put(waiting));
  }

  async all(): Promise<Waiting[]> {
    const kept: unknown = await this.ask(OUTBOX, "readonly", (store) => store.getAll());
    return kept as Waiting[];
  }

  private ask(
    name: string,
    mode: IDBTransactionMode,
    work: (store: IDBObjectStore) => IDBRequest,
  ): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const transaction = this.db.transaction(name, mode, { durability: "strict" });
      const request = work(transaction.objectStore(name));
      // Done is when the transaction is on the phone's disk, not when the request succeeded.
      transaction.oncomplete = () => resolve(request.result);
      transaction.onerror = () => reject(transaction.error ?? new Error("not kept"));
      transaction.onabort = () => reject(transaction.error ?? new Error("not kept"));
    });
  }
}

/** A key no other request has; there is no randomUUID on a page served over plain http. */
export function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

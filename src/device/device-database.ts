/** Which copies of shared documents rest on this device: so that signing out finds every one of them. */
import { type DBSchema, deleteDB, openDB } from "idb";
import type { InstantMs } from "~/core/units";

export type CopyOnDevice = {
  /** The name of its database. */
  name: string;
  kind: "floor" | "notes";
  shopId: string;
  /** The piece of a notes document. */
  pieceId?: string;
  /** Of the document; notes that have none yet are of the first. */
  epoch?: number;
  /** When the server was last heard. */
  heardAt?: InstantMs;
  /** Words written here that the server has not had yet. */
  hasUnsent?: boolean;
};

interface DeviceSchema extends DBSchema {
  copy: { key: string; value: CopyOnDevice };
}

const open = () =>
  openDB<DeviceSchema>("tackfree-device", 1, {
    upgrade: (database) => {
      database.createObjectStore("copy", { keyPath: "name" });
    },
  });

async function using<Value>(work: (database: Awaited<ReturnType<typeof open>>) => Promise<Value>): Promise<Value> {
  const database = await open();
  try {
    return await work(database);
  } finally {
    database.close();
  }
}

export const copiesOnDevice = (): Promise<CopyOnDevice[]> => using((database) => database.getAll("copy"));

export const copyOnDevice = (name: string): Promise<CopyOnDevice | undefined> =>
  using((database) => database.get("copy", name));

/** Written before the copy itself is opened, so that no copy exists that signing out would miss. */
export const rememberCopy = (copy: CopyOnDevice): Promise<unknown> => using((database) => database.put("copy", copy));

export async function dropCopy(name: string): Promise<void> {
  await deleteDB(name);
  await using((database) => database.delete("copy", name));
}

import { hash, verify } from "@node-rs/argon2";

// argon2id is the library's default. Costs: OWASP Password Storage Cheat Sheet, 19 MiB, 2 passes, 1 lane.
const costs = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export const hashPassword = (password: string): Promise<string> => hash(password.normalize("NFC"), costs);

export const isPassword = (passwordHash: string, password: string): Promise<boolean> =>
  verify(passwordHash, password.normalize("NFC"));

let hashOfNobody: Promise<string> | undefined;

/** As much work as for a name that exists, so that the time of an answer does not tell which names do. */
export async function refuseSlowly(password: string): Promise<false> {
  hashOfNobody ??= hashPassword("nobody has this password");
  await isPassword(await hashOfNobody, password);
  return false;
}

import { decode, type JWT } from "next-auth/jwt";

/**
 * Opens what a sign-in has sealed, with whichever of the secrets it was sealed: the one of now, or the one before it.
 *
 * @returns null where it is none of ours, or too old
 */
export async function openToken(token: string, secrets: readonly string[]): Promise<JWT | null> {
  for (const secret of secrets) {
    const opened = await decode({ token, secret }).catch(() => null);
    if (opened) return opened;
  }
  return null;
}

/** The secrets that this process was started with, the one that seals first. */
export const secretsOf = (env: Readonly<Record<string, string | undefined>>): string[] =>
  [env.NEXTAUTH_SECRET, env.NEXTAUTH_SECRET_PREVIOUS].flatMap((secret) => secret || []);

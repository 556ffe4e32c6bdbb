import { dayMs, type InstantMs } from "~/core/units";
import { database } from "~/data/db";
import { createLink, hasShop } from "~/data/links";
import { demoPassword, demoShopId, demoSignInNames, seedDemo } from "../seed/demo";

export { demoShopId };

const codeDays = 7;

/** Is the invented shop in this database? Only there may a sensor invent readings. */
export const hasDemoShop = async (): Promise<boolean> =>
  (await database().shop.count({ where: { shopId: demoShopId } })) > 0;

/**
 * How somebody gets in, for the terminal: the invented members' sign-ins where the demo was asked for, a founder's code
 * for an installation without a shop, and else just the address.
 */
export async function waysIn({
  isDemo,
  siteUrl,
  now,
}: {
  isDemo: boolean;
  siteUrl: string;
  now: InstantMs;
}): Promise<string> {
  if (!(await hasShop())) {
    if (!isDemo) {
      const code = await createLink({ sort: "founder", now, expiresAt: now + codeDays * dayMs });
      return `Found the shop: ${siteUrl}/found with the one-time code ${code} (good for ${codeDays} days)`;
    }
    console.log("Playing a made-up week through the rules; this takes a moment …");
    await seedDemo({ now });
  }
  if (!(await hasDemoShop())) return `Sign in:  ${siteUrl}/sign-in`;
  const names = demoSignInNames.map(({ signInName, role }) => `            ${signInName} (${role})`).join("\n");
  return `Sign in:  ${siteUrl}/sign-in, invented members, password “${demoPassword}”:\n${names}`;
}

/** Makes a link with which an owner who cannot sign in any more gets back in. Run in the terminal of the server's machine. */
import { roleAt } from "~/core/shop/roles";
import { hourMs } from "~/core/units";
import { closeDatabase, database } from "~/data/db";
import { createLink } from "~/data/links";
import { membersOf } from "~/data/members";

const lastsHours = 1;

async function printOwnerLinks(siteUrl: string, now: number): Promise<void> {
  const shops = await database().shop.findMany({ select: { shopId: true, name: true } });
  if (shops.length === 0) console.log("There is no shop yet: start the server, and it shows how to found one.");
  for (const { shopId, name } of shops) {
    const owners = (await membersOf(shopId)).filter((member) => roleAt(member, now) === "owner");
    for (const owner of owners) {
      const seat = await database().seat.findUnique({
        where: { shopId_memberId: { shopId, memberId: owner.id } },
        include: { account: true },
      });
      if (!seat) continue;
      const expiresAt = now + lastsHours * hourMs;
      const secret = await createLink({ sort: "owner-reset", shopId, accountId: seat.accountId, now, expiresAt });
      console.log(`${name}: ${owner.name} (signs in as ${seat.account.signInName})`);
      // behind the # it stays in the browser, and out of every log
      console.log(`  ${new URL(`/reset#${secret}`, siteUrl).href}`);
    }
  }
  if (shops.length > 0) console.log(`Each works once, within ${lastsHours} hour. Links made earlier no longer work.`);
}

await printOwnerLinks(process.env.NEXTAUTH_URL ?? "http://localhost:3000", Date.now()).finally(closeDatabase);

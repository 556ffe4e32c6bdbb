import type { Shop } from "~/core/shop/tables";
import { leadYearWords } from "~/ui/piece/lead-words";
import { weekdays } from "../entrance/week-start-field";
import { duration } from "../format";
import { Board } from "../kit/board";
import { Key, Keys } from "../kit/key";

/** What everybody works by; only the owner changes it. */
export function ShopFacts({ shop, onChange }: { shop: Shop; onChange?: () => void }) {
  const facts: [string, string][] = [
    ["Time zone", shop.zone],
    ["Country, currency", `${shop.country}, ${shop.currency}`],
    ["Week starts", weekdays[shop.weekStartsOn - 1] ?? ""],
    ["A claim lasts", `${duration(shop.leaseMin * 60)} without a sign of work`],
    ["Lead", leadYearWords(shop.leadBanYear)],
    ["Hours", shop.partnersSeeHours ? "partners see everybody’s" : "partners see their own"],
    ["Helpers’ tests", shop.helperTestOpens ? "open gates" : "open gates after a partner’s word"],
  ];
  return (
    <Board title={shop.name}>
      <dl className="facts">
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {onChange && (
        <Keys>
          <Key glove onPress={onChange}>
            Change the settings
          </Key>
        </Keys>
      )}
    </Board>
  );
}

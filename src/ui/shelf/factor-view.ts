import { factorAt, factoredTime } from "~/core/cure/factor";
import type { Product, Sheet } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { duration } from "~/ui/format";

export type FactorView = {
  /** "Your shop’s films of this take 1.2 × the sheet’s time." */
  head: string;
  /** "7 tests · 4 in 5 sure it is between 1.1 and 1.4 ×" */
  sure: string;
  /** What it does to a figure of a day. */
  day: string;
  isOn: boolean;
  tests: number;
};

const times = (factor: number) => factor.toFixed(factor < 1.95 ? 2 : 1).replace(/0$/, "");
const dayMin = 1440;

/** What hand tests have taught of a product, in a sentence, with how sure that is and what follows from it. */
export function factorView(product: Product, sheet: Sheet | undefined, now: InstantMs): FactorView {
  const { factor, leastFactor, mostFactor, tests, isOn } = factorAt(product, sheet, now);
  if (tests === 0)
    return {
      head: "No hand test has said anything about this product yet.",
      sure: "Estimates go by the sheet alone. Each passed or failed test teaches a little.",
      day: "",
      isOn,
      tests,
    };
  const shown = times(factor);
  const { safeMin, likelyMin } = factoredTime({ min: dayMin }, factor);
  const [safe, likely] = [safeMin, likelyMin].map((minutes) => duration(Math.round(minutes / 5) * 5 * 60));
  const same = shown === times(1);
  return {
    head: same
      ? "Your shop’s films of this take the sheet’s time."
      : `Your shop’s films of this take ${shown} × the sheet’s time.`,
    sure: `${tests} ${tests === 1 ? "test" : "tests"} · 4 in 5 sure it is between ${leastFactor.toFixed(1)} and ${mostFactor.toFixed(1)} ×`,
    day:
      factor < 1
        ? `24 h on the sheet: likely ${likely} here. Safe stays at 24 h: what is quick never opens a gate early.`
        : `24 h on the sheet: ${safe} here.`,
    isOn,
    tests,
  };
}

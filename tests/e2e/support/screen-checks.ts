import type { Page } from "@playwright/test";

/** The least that a finger finds. Source: WCAG 2.2, success criterion 2.5.5. */
const leastPx = 44;

/**
 * What can be pressed and is smaller than a finger. A field that is drawn by its label is as large as the label, and a key
 * whose face lies over more than its words is as large as its face: what a finger hits decides. Links in the middle of a
 * sentence are not meant (2.5.5, "Inline"), nor the native field that stands behind a drawn one.
 */
export const tooSmallTargets = (page: Page): Promise<string[]> =>
  page.evaluate((least) => {
    const pressable = "a[href], button, select, textarea, summary, input:not([type=hidden]), [role=button], [role=tab]";
    const isHitAround = (element: HTMLElement): boolean => {
      element.scrollIntoView({ block: "center" });
      const { left, top, width, height } = element.getBoundingClientRect();
      const [x, y, reach] = [left + width / 2, top + height / 2, least / 2 - 1];
      const corners = [
        [0, -reach],
        [0, reach],
        [-Math.min(reach, x - 1), 0],
        [reach, 0],
      ] as const;
      return corners.every(([dx, dy]) => {
        const hit = document.elementFromPoint(x + dx, y + dy);
        return hit !== null && (element.contains(hit) || hit.contains(element));
      });
    };
    return [...document.querySelectorAll<HTMLElement>(pressable)].flatMap((element) => {
      const isInSentence = element.matches("a") && getComputedStyle(element).display === "inline";
      const isBehind = element.closest("[aria-hidden=true]") !== null;
      const drawn = element.matches("input") ? (element.closest("label") ?? element) : element;
      const { width, height } = drawn.getBoundingClientRect();
      const isShown = element.checkVisibility({ visibilityProperty: true }) && width > 1 && height > 1;
      if (!isShown || isInSentence || isBehind || (width >= least - 0.5 && height >= least - 0.5)) return [];
      if (isHitAround(element)) return [];
      const words = (element.ariaLabel ?? element.textContent ?? "").trim().slice(0, 40);
      return [`${element.tagName.toLowerCase()} “${words}”: ${Math.round(width)} × ${Math.round(height)}`];
    });
  }, leastPx);

const mostTabs = 400;

/** What can be pressed and the Tab key does not come to; of a group that the arrow keys walk, one is enough. */
export async function unreached(page: Page): Promise<string[]> {
  const wanted = await page.evaluate(() => {
    const pressable = "a[href], button:not(:disabled), select, textarea, input:not([type=hidden]), [tabindex='0']";
    const isInGroup = (element: Element) =>
      element.matches("[role=radio], [role=tab], [role=option], input[type=radio]") ||
      element.closest("[role=radiogroup], [role=toolbar], [role=tablist], [role=listbox]") !== null;
    (document.activeElement as HTMLElement | null)?.blur();
    return [...document.querySelectorAll<HTMLElement>(pressable)]
      .filter((element) => element.checkVisibility({ visibilityProperty: true }) && element.tabIndex >= 0)
      .filter((element) => !isInGroup(element))
      .map((element, index) => {
        element.dataset.reach = String(index);
        return (element.ariaLabel ?? element.textContent ?? element.tagName).trim().slice(0, 40);
      });
  });
  const reached = new Set<string>();
  for (let tab = 0; tab < mostTabs && reached.size < wanted.length; tab += 1) {
    await page.keyboard.press("Tab");
    const here = await page.evaluate(() => (document.activeElement as HTMLElement | null)?.dataset.reach);
    if (here !== undefined) reached.add(here);
  }
  return wanted.filter((_, index) => !reached.has(String(index)));
}

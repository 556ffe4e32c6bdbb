/** The lights a person can choose; "system" follows the device, and paper takes the print light by itself. */
export const lightChoices = ["day", "garage", "contrast", "system"] as const;

export type LightChoice = (typeof lightChoices)[number];

export const lightKey = "tackfree-light";

/** The window event by which a choice reaches `lightScript`; its detail is the `LightChoice`. */
export const lightEvent = "tackfree-light";

/**
 * Sets data-light on <html> before the first paint, and again when the system, the choice or the printer asks. Put it inline at
 * the start of <body>, and `suppressHydrationWarning` on <html>. A device without storage still follows the choice until it
 * leaves the page. Contrast wins over dark, because who asks for it cannot read without it.
 */
export const lightScript = `(() => {
  const root = document.documentElement;
  const more = matchMedia("(prefers-contrast: more)");
  const dark = matchMedia("(prefers-color-scheme: dark)");
  let choice = "system";
  try { choice = localStorage.getItem("${lightKey}") || "system"; } catch {}
  const light = () => {
    if (["day", "garage", "contrast"].includes(choice)) return choice;
    return more.matches ? "contrast" : dark.matches ? "garage" : "day";
  };
  const set = () => { root.dataset.light = light(); };
  set();
  more.addEventListener("change", set);
  dark.addEventListener("change", set);
  addEventListener("${lightEvent}", (event) => {
    choice = event.detail;
    set();
    try { localStorage.setItem("${lightKey}", choice); } catch {}
  });
  addEventListener("beforeprint", () => { root.dataset.light = "print"; });
  addEventListener("afterprint", set);
})();`;

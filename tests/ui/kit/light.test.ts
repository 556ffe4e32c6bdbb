import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { lightEvent, lightKey, lightScript } from "~/ui/kit/light";

/** A device with just what the script reads: its preferences, its storage and its events. */
function device({ kept = null as string | null, dark = false, more = false, storageIsShut = false }) {
  const heard = new Map<string, (event: { detail?: string }) => void>();
  const dataset: { light?: string } = {};
  const stored = new Map<string, string>(kept === null ? [] : [[lightKey, kept]]);
  const refuse = () => {
    throw new Error("storage is shut");
  };
  runInNewContext(lightScript, {
    document: { documentElement: { dataset } },
    matchMedia: (query: string) => ({
      matches: query.includes("contrast") ? more : dark,
      addEventListener: () => undefined,
    }),
    localStorage: storageIsShut
      ? { getItem: refuse, setItem: refuse }
      : {
          getItem: (key: string) => stored.get(key) ?? null,
          setItem: (key: string, value: string) => stored.set(key, value),
        },
    addEventListener: (name: string, hear: (event: { detail?: string }) => void) => heard.set(name, hear),
  });
  return { dataset, stored, fire: (name: string, detail?: string) => heard.get(name)?.({ detail }) };
}

test.each([
  { prefers: { dark: false, more: false }, light: "day" },
  { prefers: { dark: true, more: false }, light: "garage" },
  { prefers: { dark: true, more: true }, light: "contrast" },
])("a device on which nobody chose opens in $light for $prefers", ({ prefers, light }) => {
  expect(device(prefers).dataset.light).toBe(light);
});

test("the light that a person chose wins over the device's own, and stays for the next visit", () => {
  const phone = device({ dark: true });
  phone.fire(lightEvent, "contrast");
  expect(phone.dataset.light).toBe("contrast");
  expect(device({ dark: true, kept: phone.stored.get(lightKey) ?? null }).dataset.light).toBe("contrast");
});

test("a word in storage that is no light is passed over", () => {
  expect(device({ kept: "neon" }).dataset.light).toBe("day");
});

test("a device whose storage is shut still changes its light", () => {
  const phone = device({ storageIsShut: true });
  phone.fire(lightEvent, "garage");
  expect(phone.dataset.light).toBe("garage");
});

test("paper takes the print light and gives the chosen one back", () => {
  const laptop = device({ kept: "garage" });
  laptop.fire("beforeprint");
  expect(laptop.dataset.light).toBe("print");
  laptop.fire("afterprint");
  expect(laptop.dataset.light).toBe("garage");
});

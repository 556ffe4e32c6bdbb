/** The shop's own network: https under the machine's name, and what an address that is not secure cannot do. */
import { createHash, X509Certificate } from "node:crypto";
import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import tls from "node:tls";
import { type Browser, chromium, expect, test } from "@playwright/test";
import { hostNames } from "../../scripts/addresses.mjs";
import { RunningServer } from "../support/running-server";
import { signIn } from "./support/people";

/** The machine's name for devices that have no name server; "localhost" alone proves nothing of a phone. */
const lanName = hostNames().find((name) => name.endsWith(".local")) ?? hostNames().at(-1);

/** A browser that finds this machine under another name, as a phone does. */
async function browserThatFinds(name: string, more: string[] = []): Promise<Browser> {
  const { executablePath, args = [] } = test.info().project.use.launchOptions ?? {};
  return chromium.launch({ executablePath, args: [...args, `--host-resolver-rules=MAP ${name} 127.0.0.1`, ...more] });
}

/** The certificate that the site shows; refused by node unless this authority has signed it for this name. */
const certificateShown = (port: number, servername: string, ca: string): Promise<X509Certificate> =>
  new Promise((resolve, reject) => {
    const socket = tls.connect({ host: "127.0.0.1", port, servername, ca }, () => {
      const shown = socket.getPeerX509Certificate();
      socket.destroy();
      if (shown) resolve(shown);
      else reject(new Error("no certificate was shown"));
    });
    socket.once("error", reject);
  });

test.describe("over https on the shop's network", () => {
  test.skip(lanName === undefined || lanName === "localhost", "this machine has no name besides localhost");
  const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-lan-"));
  chmodSync(folder, 0o755); // as root, PostgreSQL runs as another user, who must get through
  let server: RunningServer;
  test.beforeAll(async () => {
    test.setTimeout(120_000);
    ({ server } = await RunningServer.start({ dataFolder: path.join(folder, "shop"), args: ["--lan", "--no-demo"] }));
  });
  test.afterAll(async () => {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  test("the site shows a certificate for its name by the authority that the trust page hands out, and works without signal", async () => {
    const name = lanName as string;
    const authority = await fetch(`http://127.0.0.1:${server.port + 1}/trust/authority.crt`);
    const ca = new X509Certificate(Buffer.from(await authority.arrayBuffer())).toString();
    const shown = await certificateShown(server.port, name, ca);
    const key = createHash("sha256")
      .update(shown.publicKey.export({ type: "spki", format: "der" }))
      .digest("base64");

    // the browser's own list of authorities is the machine's; this stands for the tap with which a phone trusts ours
    const browser = await browserThatFinds(name, [`--ignore-certificate-errors-spki-list=${key}`]);
    const page = await browser.newPage();
    await page.goto(`https://${name}:${server.port}/found`);
    expect(await page.evaluate(() => isSecureContext)).toBe(true);
    await page.getByLabel("Code from the terminal").fill(await server.founderCode());
    await page.getByLabel("Name of the shop").fill("A bench and a lamp");
    await page.getByLabel("Your name").fill("Ida");
    await page.getByLabel("Sign-in name").fill("ida");
    await page.getByLabel("Password").fill("walnut and shellac");
    await page.getByRole("button", { name: "Found the shop" }).click();
    await expect(page.getByRole("heading", { name: "Floor", level: 1 })).toBeVisible();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await expect(page.getByText("Working without signal is off here")).toBeHidden();
    await browser.close();
  });
});

test("an address that is not secure says that working without signal is off there", async ({ baseURL }) => {
  const { port } = new URL(baseURL as string);
  const browser = await browserThatFinds("workshop.test");
  const page = await browser.newPage({ baseURL: `http://workshop.test:${port}` });
  await signIn(page, "Rufus");
  await expect(page.getByText("Working without signal is off here")).toBeVisible();
  await browser.close();
});

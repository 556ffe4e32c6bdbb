import { X509Certificate } from "node:crypto";
import { once } from "node:events";
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import os from "node:os";
import path from "node:path";
import tls from "node:tls";
import { afterEach, beforeEach, expect, test } from "vitest";
import { localCertificate } from "../../scripts/certificate.mjs";
import { givenCertificate } from "../../scripts/given-certificate.mjs";

const dayMs = 86_400_000;
const now = Date.now(); // TLS itself compares certificates with the real clock
const addresses = ["127.0.0.1", "192.168.7.20"];
const hosts = ["localhost", "bench", "bench.local", ...addresses];
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-certificate-"));
});

afterEach(() => rmSync(folder, { recursive: true }));

type Made = Awaited<ReturnType<typeof localCertificate>>;

/** Opens a TLS connection as a phone would that trusts the shop's authority and nothing else. */
async function connect(made: Made, hostName: string) {
  const files = { cert: readFileSync(made.server.certificateFile), key: readFileSync(made.server.keyFile) };
  const server = tls.createServer(files).listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address() as AddressInfo;
  const socket = tls.connect({ port, host: "127.0.0.1", servername: hostName, ca: readFileSync(made.authorityFile) });
  try {
    await once(socket, "secureConnect");
    return socket.authorized;
  } finally {
    socket.destroy();
    server.close();
  }
}

test.each(["bench", "bench.local", "localhost"])(
  "a phone that trusts the shop's authority connects to %s",
  async (name) => {
    expect(await connect(await localCertificate(folder, hosts, now), name)).toBe(true);
  },
);

test("a phone refuses the shop's certificate under another name", async () => {
  const made = await localCertificate(folder, hosts, now);
  await expect(connect(made, "other.local")).rejects.toThrow("does not match certificate's altnames");
});

test("a site on the internet that shows a certificate made with the shop's stolen key is refused", async () => {
  await localCertificate(folder, hosts, now);
  // The thief writes their own address into the list of what the authority may speak for; the signed constraint stays.
  // The address is one reserved for documentation: RFC 5737.
  writeFileSync(path.join(folder, "own-hosts.json"), JSON.stringify(["localhost", "bench", "203.0.113.5"]));
  const forged = await localCertificate(folder, [...hosts, "203.0.113.5"], now);
  expect(forged.isNewAuthority).toBe(false);
  await expect(connect(forged, "bench.local")).rejects.toThrow("permitted subtree violation");
});

test("a machine whose own address is not a private one gets an authority that may speak for it", async () => {
  const made = await localCertificate(folder, [...hosts, "203.0.113.5"], now);
  expect(await connect(made, "bench.local")).toBe(true);
});

test("the certificate names every address of the machine, and runs no longer than browsers accept", async () => {
  const made = await localCertificate(folder, hosts, now);
  const certificate = new X509Certificate(readFileSync(made.server.certificateFile));
  for (const address of addresses) expect(certificate.checkIP(address)).toBeDefined();
  const days = (Date.parse(certificate.validTo) - Date.parse(certificate.validFrom)) / dayMs;
  expect(days).toBeLessThanOrEqual(397); // CA/Browser Forum, ballot SC31: 398 days at most, 397 recommended
});

test("only the owner of the data folder can read the keys", async () => {
  const made = await localCertificate(folder, hosts, now);
  for (const keyFile of [made.server.keyFile, path.join(folder, "authority.key")])
    expect(statSync(keyFile).mode & 0o777).toBe(0o600);
});

test("a restart keeps the certificate, a month before its end renews it, and phones need not trust anew", async () => {
  const read = (made: Made) => readFileSync(made.server.certificateFile, "utf8");
  const first = read(await localCertificate(folder, hosts, now));
  expect(read(await localCertificate(folder, hosts, now + 360 * dayMs))).toBe(first);
  const renewed = await localCertificate(folder, hosts, now + 367 * dayMs);
  expect(read(renewed)).not.toBe(first);
  expect(renewed.isNewAuthority).toBe(false);
});

test("a new address on the network renews the certificate, and phones need not trust anew", async () => {
  await localCertificate(folder, hosts, now);
  const moved = await localCertificate(folder, ["localhost", "bench", "bench.local", "127.0.0.1", "10.0.0.9"], now);
  expect(new X509Certificate(readFileSync(moved.server.certificateFile)).checkIP("10.0.0.9")).toBe("10.0.0.9");
  expect(moved.isNewAuthority).toBe(false);
});

test("a certificate that was brought along is refused when its key belongs to another", async () => {
  const one = await localCertificate(path.join(folder, "one"), hosts, now);
  const other = await localCertificate(path.join(folder, "other"), hosts, now);
  const { certificateFile } = one.server;
  expect(givenCertificate(one.server, now)).toEqual(one.server);
  expect(() => givenCertificate({ certificateFile, keyFile: other.server.keyFile }, now)).toThrow("does not belong to");
  expect(() => givenCertificate({ certificateFile, keyFile: undefined }, now)).toThrow("only one is given");
  expect(() => givenCertificate({ certificateFile, keyFile: `${folder}/none` }, now)).toThrow("no file");
  expect(() => givenCertificate(one.server, now + 400 * dayMs)).toThrow("ran out");
});

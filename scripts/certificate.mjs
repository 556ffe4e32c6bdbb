import { createPrivateKey, webcrypto, X509Certificate } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { isIP } from "node:net";
import path from "node:path";
import { isPrivate, privateRanges } from "./addresses.mjs";

// Browsers give service workers, the camera and locks only to https. No public authority vouches for a machine in a
// workshop, so the workshop gets an authority of its own. Phones that trust it must not be put at risk by that: its
// certificate says, in a critical constraint, that it speaks for private addresses, names in .local and this machine's own
// few others only, so even a stolen key cannot pass for a site on the internet.

const dayMs = 86_400_000;
const authorityDays = 5 * 365;
const serverDays = 397; // the longest that browsers accept of public authorities (CA/Browser Forum, ballot SC31)
const renewsBeforeDays = 30;
const signature = { name: "ECDSA", namedCurve: "P-256", hash: "SHA-256" };

/** @typedef {{ certificateFile: string, keyFile: string }} Pair */

async function loadX509() {
  await import("reflect-metadata"); // @peculiar/x509 needs it first
  return import("@peculiar/x509");
}

/** Whether every authority of ours may speak for it, whatever machine it was made on. @param {string} host */
const isAlwaysAllowed = (host) => (isIP(host) ? isPrivate(host) : host.endsWith(".local"));

/** @param {string[]} ownHosts names and addresses beyond those that are always allowed */
async function nameConstraints(ownHosts) {
  const { Extension } = await loadX509();
  const { AsnConvert } = await import("@peculiar/asn1-schema");
  const asn = await import("@peculiar/asn1-x509");
  const allowed = [
    ...["local", ...ownHosts.filter((host) => !isIP(host))].map((dNSName) => new asn.GeneralName({ dNSName })),
    ...[...privateRanges, ...ownHosts.filter((host) => isIP(host)).map((address) => `${address}/32`)].map(
      (iPAddress) => new asn.GeneralName({ iPAddress }),
    ),
  ];
  const permittedSubtrees = new asn.GeneralSubtrees(allowed.map((base) => new asn.GeneralSubtree({ base })));
  const isCritical = true;
  return new Extension(
    asn.id_ce_nameConstraints,
    isCritical,
    AsnConvert.serialize(new asn.NameConstraints({ permittedSubtrees })),
  );
}

/** @param {CryptoKey} key */
async function pemOfKey(key) {
  const { PemConverter } = await loadX509();
  return PemConverter.encode(await webcrypto.subtle.exportKey("pkcs8", key), PemConverter.PrivateKeyTag);
}

/** @param {Pair} pair @param {string} certificatePem @param {string} keyPem */
function keep({ certificateFile, keyFile }, certificatePem, keyPem) {
  mkdirSync(path.dirname(keyFile), { recursive: true, mode: 0o700 });
  writeFileSync(keyFile, keyPem, { mode: 0o600 });
  writeFileSync(certificateFile, certificatePem);
}

/** @param {Pair} pair @param {string[]} ownHosts @param {number} now */
async function makeAuthority(pair, ownHosts, now) {
  const x509 = await loadX509();
  const keys = await webcrypto.subtle.generateKey(signature, true, ["sign", "verify"]);
  const certificate = await x509.X509CertificateGenerator.createSelfSigned({
    name: "CN=Tackfree local authority",
    notBefore: new Date(now - dayMs), // phones' clocks differ
    notAfter: new Date(now + authorityDays * dayMs),
    signingAlgorithm: signature,
    keys,
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      await nameConstraints(ownHosts),
    ],
  });
  keep(pair, `${certificate.toString("pem")}\n`, await pemOfKey(keys.privateKey));
}

/** @param {Pair} authority @param {Pair} server @param {string[]} hosts @param {number} now */
async function makeServerCertificate(authority, server, hosts, now) {
  const x509 = await loadX509();
  const issuer = new x509.X509Certificate(readFileSync(authority.certificateFile, "utf8"));
  const authorityKey = createPrivateKey(readFileSync(authority.keyFile)).export({ type: "pkcs8", format: "der" });
  const signingKey = await webcrypto.subtle.importKey("pkcs8", authorityKey, signature, false, ["sign"]);
  const keys = await webcrypto.subtle.generateKey(signature, true, ["sign", "verify"]);
  const certificate = await x509.X509CertificateGenerator.create({
    subject: "CN=Tackfree in this workshop",
    issuer: issuer.subject,
    notBefore: new Date(now - dayMs),
    notAfter: new Date(Math.min(now + (serverDays - 1) * dayMs, issuer.notAfter.getTime())),
    signingAlgorithm: signature,
    signingKey,
    publicKey: keys.publicKey,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      new x509.SubjectAlternativeNameExtension(
        hosts.map((host) => new x509.GeneralName(isIP(host) ? x509.IP : x509.DNS, host)),
      ),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      await x509.AuthorityKeyIdentifierExtension.create(issuer),
    ],
  });
  keep(server, `${certificate.toString("pem")}\n`, await pemOfKey(keys.privateKey));
}

/** Whether both files are there, belong together, and need no renewal yet. @param {Pair} pair @param {number} now */
function isCurrent({ certificateFile, keyFile }, now) {
  if (!existsSync(certificateFile) || !existsSync(keyFile)) return false;
  const certificate = new X509Certificate(readFileSync(certificateFile));
  const isWhole = certificate.checkPrivateKey(createPrivateKey(readFileSync(keyFile)));
  return isWhole && Date.parse(certificate.validTo) > now + renewsBeforeDays * dayMs;
}

/** @param {string} file @param {string[]} hosts @param {Pair} authority */
function covers(file, hosts, authority) {
  const certificate = new X509Certificate(readFileSync(file));
  const issuer = new X509Certificate(readFileSync(authority.certificateFile));
  const isOurs = certificate.verify(issuer.publicKey);
  return isOurs && hosts.every((host) => (isIP(host) ? certificate.checkIP(host) : certificate.checkHost(host)));
}

/**
 * The workshop's certificate for these names and addresses, made or renewed where that is due, and the authority behind it.
 * @param {string} folder where both are kept
 * @param {string[]} hosts names and IPv4 addresses
 * @param {number} now epoch ms
 */
export async function localCertificate(folder, hosts, now) {
  const authority = {
    certificateFile: path.join(folder, "authority.crt"),
    keyFile: path.join(folder, "authority.key"),
  };
  const server = { certificateFile: path.join(folder, "server.crt"), keyFile: path.join(folder, "server.key") };
  const ownHostsFile = path.join(folder, "own-hosts.json"); // what the authority may speak for beyond the usual
  const ownHosts = hosts.filter((host) => !isAlwaysAllowed(host));
  const allowed = existsSync(ownHostsFile) ? JSON.parse(readFileSync(ownHostsFile, "utf8")) : [];
  const isNewAuthority = !isCurrent(authority, now) || ownHosts.some((host) => !allowed.includes(host));
  if (isNewAuthority) {
    await makeAuthority(authority, ownHosts, now);
    writeFileSync(ownHostsFile, JSON.stringify(ownHosts));
  }
  if (!isCurrent(server, now) || !covers(server.certificateFile, hosts, authority))
    await makeServerCertificate(authority, server, hosts, now);
  return { server, authorityFile: authority.certificateFile, isNewAuthority };
}

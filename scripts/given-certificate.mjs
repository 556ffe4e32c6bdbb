import { createPrivateKey, X509Certificate } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { Trouble } from "./trouble.mjs";

/**
 * A certificate that the owner brings along, looked at before it is used.
 * @param {{ certificateFile: string | undefined, keyFile: string | undefined }} files
 * @param {number} now epoch ms
 * @returns {import("./certificate.mjs").Pair | undefined} undefined where neither is given
 */
export function givenCertificate({ certificateFile, keyFile }, now) {
  if (!certificateFile && !keyFile) return undefined;
  if (!certificateFile || !keyFile)
    throw new Trouble("Of TLS_CERT and TLS_KEY only one is given.", "Give both files, or neither.");
  for (const file of [certificateFile, keyFile])
    if (!existsSync(file)) throw new Trouble(`There is no file ${file}.`, "Correct TLS_CERT and TLS_KEY.");
  let certificate;
  let key;
  try {
    certificate = new X509Certificate(readFileSync(certificateFile));
    key = createPrivateKey(readFileSync(keyFile));
  } catch (error) {
    const { message } = /** @type {Error} */ (error);
    throw new Trouble(
      `TLS_CERT or TLS_KEY cannot be read: ${message}`,
      "Both must be PEM files, the key without a password.",
    );
  }
  if (!certificate.checkPrivateKey(key))
    throw new Trouble(
      `The key ${keyFile} does not belong to ${certificateFile}.`,
      "Give the two that were made together.",
    );
  if (Date.parse(certificate.validTo) < now)
    throw new Trouble(
      `The certificate ${certificateFile} ran out on ${certificate.validTo}.`,
      "Renew it and start again.",
    );
  return { certificateFile, keyFile };
}

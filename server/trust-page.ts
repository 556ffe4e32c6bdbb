/**
 * How a phone comes to trust the authority that this installation has made for itself. Served over plain http, because a
 * device cannot use the encrypted site before; everything else here leads to that.
 */
import { readFileSync } from "node:fs";
import type { RequestListener } from "node:http";

// Where the settings are: from memory, as of 2026; they move between versions, so each line says what to look for.
const page = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Trust this workshop's server</title>
<style>
  body { max-width: 38rem; margin: 2rem auto; padding: 0 1rem; font: 1.1rem/1.5 sans-serif; color: #222; background: #fbfaf7; }
  a.file { display: inline-block; padding: .8rem 1.2rem; border: 2px solid; color: inherit; }
  h2 { margin-top: 2rem; font-size: 1.2rem; }
</style>
<h1>Trust this workshop's server</h1>
<p>Your shop's server has made an authority of its own, so that the line to it is encrypted and this device can work
without a connection. A device must be told once to trust it. Do this only on devices of the shop, and only if somebody
you know runs the server: a device that trusts an authority believes whatever it signs.</p>
<p>The authority signs for names and addresses in the shop's own network, and for nothing on the internet.</p>
<p><a class="file" href="/trust/authority.crt">Get the authority's certificate</a></p>
<p><strong>Before you say yes, compare.</strong> The terminal in which the server was started shows a SHA-256
fingerprint. Your device shows one under the details of the certificate. If they are not the same, stop, and tell the
person who runs the server. This page cannot be trusted to show it to you: it came over an open line.</p>
<h2>Android</h2>
<ol>
  <li>Get the certificate with the button above.</li>
  <li>Open Settings and search for “CA certificate” (Security, Encryption and credentials, Install a certificate).</li>
  <li>Choose “CA certificate”, read the warning, choose “Install anyway”, and pick the file authority.crt.</li>
  <li>Look at it under “Trusted credentials”, tab “User”, and compare the fingerprint.</li>
</ol>
<h2>iPhone and iPad</h2>
<ol>
  <li>Get the certificate with the button above and allow the download of the profile.</li>
  <li>Open Settings: “Profile Downloaded” is near the top. Under “More Details” compare the fingerprint, then install.</li>
  <li>Open Settings, General, About, Certificate Trust Settings, and turn full trust on for it.</li>
</ol>
<h2>Computers</h2>
<ol>
  <li>Get the certificate with the button above and open the file. Compare the fingerprint under its details.</li>
  <li>macOS: add it to the keychain, open it there, and under “Trust” choose “Always Trust”.</li>
  <li>Windows: choose “Install Certificate”, “Current User”, and the store “Trusted Root Certification Authorities”.</li>
  <li>Linux, and browsers with a store of their own: search the browser's settings for “certificates”, and import it
  under “Authorities”, to identify websites.</li>
</ol>
<h2>Then</h2>
<p><a href="/">Open the shop</a>. To take the trust back, remove the certificate in the same place.</p>
</html>
`;

/** @param sitePort where the encrypted site is, on the same host */
export function trustPages({ authorityFile, sitePort }: { authorityFile: string; sitePort: number }): RequestListener {
  const authority = readFileSync(authorityFile);
  return (request, response) => {
    const [path] = (request.url ?? "/").split("?");
    if (path === "/trust") {
      response.writeHead(200, {
        "content-type": "text/html; charset=utf-8",
        "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'",
        "cache-control": "no-store",
      });
      return void response.end(page);
    }
    if (path === "/trust/authority.crt") {
      response.writeHead(200, {
        "content-type": "application/x-x509-ca-cert",
        "content-disposition": 'attachment; filename="authority.crt"',
        "cache-control": "no-store",
      });
      return void response.end(authority);
    }
    const host = hostOf(request.headers.host);
    if (!host) response.writeHead(400);
    else response.writeHead(307, { location: `https://${host}:${sitePort}${safePath(request.url)}` });
    response.end();
  };
}

/** The name without the port; a header is whatever somebody wrote into it. */
const hostOf = (header = ""): string | undefined => /^([a-z0-9.-]+|\[[0-9a-f:]+\])(:\d+)?$/i.exec(header)?.[1];

const safePath = (url = "/"): string => (/^\/[\x21-\x7e]*$/.test(url) ? url : "/");

import { checkNodeVersion } from "./node-version.mjs";

// Replaces the secret that seals people's sign-ins. Nobody is signed out, unless that is asked for.

checkNodeVersion();
const { replaceSessionSecret } = await import("./session-secret.mjs");
const { readSettings } = await import("./settings.mjs");
const { checkWritable, giveUp, Trouble } = await import("./trouble.mjs");

try {
  const [option, ...more] = process.argv.slice(2);
  if ((option !== undefined && option !== "--at-once") || more.length > 0)
    throw new Trouble(`Tackfree does not know "${option}".`, "Usage: npm run new-secret [-- --at-once]");
  if (process.env.NEXTAUTH_SECRET)
    throw new Trouble(
      "NEXTAUTH_SECRET is set, and rules over the file.",
      "Give the server NEXTAUTH_SECRET with the new one, and NEXTAUTH_SECRET_PREVIOUS with the old one for 60 days.",
    );
  const { dataFolder } = readSettings([], process.env);
  checkWritable(dataFolder);
  const isAtOnce = option === "--at-once";
  replaceSessionSecret(dataFolder, { isAtOnce });
  console.log(
    isAtOnce
      ? "There is a new secret. From the next start on everybody has to sign in again."
      : "There is a new secret. It counts from the next start on, and the old one for 60 days more: nobody is signed out.",
  );
} catch (error) {
  giveUp(error);
}

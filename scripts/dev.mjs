import { checkNodeVersion } from "./node-version.mjs";

checkNodeVersion();
const { launch } = await import("./launch.mjs");
const { giveUp } = await import("./trouble.mjs");
await launch("development").catch(giveUp);

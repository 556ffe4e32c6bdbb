// Imports nothing, and is imported first, so that an older Node gets a sentence and not a syntax error.
const oldest = "20.9";

/** Ends the program, and says how to go on, where Node is older than package.json's "engines" asks for. */
export function checkNodeVersion() {
  const isNewEnough = process.versions.node.localeCompare(oldest, undefined, { numeric: true }) >= 0;
  if (isNewEnough) return;
  console.error(`\nTackfree needs Node.js ${oldest} or newer; this is ${process.versions.node}.`);
  console.error("Install the current long-term version of Node.js, open a new terminal and start again.\n");
  process.exit(1);
}

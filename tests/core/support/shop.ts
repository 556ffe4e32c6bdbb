/** Everything that a test of the shop's rules needs: its people, its rows, and the way through the door. */
export * from "./door";
export * from "./people";
export * from "./pieces";

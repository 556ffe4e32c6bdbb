/** What stops a person at the door, in words: the accounts' own refusals beside those of the rules. */
import type { Refusal } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import { duration, moment } from "../format";
import { wordsOf } from "../wording";

export type AccountRefusal =
  | { kind: "name-taken" }
  | { kind: "password-too-short"; min: number }
  | { kind: "link-over" }
  | { kind: "wrong-name-or-password" }
  | { kind: "too-many-attempts"; earliestAt: InstantMs }
  | { kind: "no-seat" }
  | { kind: "no-signal" }
  | { kind: "not-answered" };

export type EntranceRefusal = AccountRefusal | Refusal;

export type EntranceWords = {
  title: string;
  sentence: string;
  /** The field that it is about, if it is about one. */
  field?: "signInName" | "password";
};

type At = { now: InstantMs; zone: string };

const table: {
  [Kind in AccountRefusal["kind"]]: (refusal: Extract<AccountRefusal, { kind: Kind }>, at: At) => EntranceWords;
} = {
  "name-taken": () => ({
    title: "That sign-in name is taken",
    sentence: "Somebody here signs in with it already. Choose another one.",
    field: "signInName",
  }),
  "password-too-short": ({ min }) => ({
    title: "That password is too short",
    sentence: `Use ${min} characters or more. Three or four unrelated words do well.`,
    field: "password",
  }),
  "link-over": () => ({
    title: "This link or code does not open anything",
    sentence: "It was used, is too old, or was not typed whole. Ask for a new one where it came from.",
  }),
  "wrong-name-or-password": () => ({
    title: "Name and password do not go together",
    sentence: "Look at both again. Big and small letters count in the password, not in the name.",
  }),
  "too-many-attempts": ({ earliestAt }, { now, zone }) => ({
    title: "Too many tries",
    sentence: `Wait until ${moment(earliestAt, now, zone)}, ${waitWords(earliestAt - now)} from now. After that, the right password still opens.`,
  }),
  "no-seat": () => ({
    title: "Your place in this shop has ended",
    sentence: "Name and password are right, but no shop here has you as a member. Ask the owner for an invitation.",
  }),
  "no-signal": () => ({
    title: "No signal",
    sentence: "The shop’s server does not answer. Nothing that you typed is lost: try again here when there is signal.",
  }),
  "not-answered": () => ({
    title: "The server could not answer",
    sentence: "Nothing was changed. Try once more; if it stays, tell whoever runs the shop’s server.",
  }),
};

const waitWords = (waitMs: number): string => duration(Math.max(60, Math.ceil(waitMs / 60_000) * 60));

const isOfAccounts = (refusal: EntranceRefusal): refusal is AccountRefusal => refusal.kind in table;

const nobody = () => "somebody";

export function entranceWords(refusal: EntranceRefusal, at: At): EntranceWords {
  if (isOfAccounts(refusal)) {
    return (table[refusal.kind] as (refusal: AccountRefusal, at: At) => EntranceWords)(refusal, at);
  }
  const names = { member: nobody, surface: nobody, room: nobody, task: nobody, joint: nobody };
  const { title, found, why, instead } = wordsOf(refusal, { names, ...at });
  return { title, sentence: [found, why, instead].filter(Boolean).join(" ") };
}

const accountKinds = Object.keys(table);

/** What the sign-in answered with as its error: a refusal as JSON, or words of the library's own. */
export function refusalFromText(error: string): EntranceRefusal {
  try {
    const found = JSON.parse(error) as Partial<EntranceRefusal> | null;
    if (found?.kind && accountKinds.includes(found.kind)) return found as AccountRefusal;
  } catch (_isNoJson) {
    // the library's own word for a failure of its own
  }
  return { kind: "not-answered" };
}

import type * as z from "zod/mini";
import { type Bounds, bounds } from "../units";
import type { Refusal } from "./refusal";

type Issue = z.core.$ZodIssue;

const boundsByField: Record<string, Bounds> = bounds;

const valueAt = (body: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key], body);

/** Turns what a parser found into a refusal that says which field, what was found and what is possible. */
export function refusalOfShape(issues: Issue[], body: unknown): Refusal {
  const issue = deepest(issues[0] as Issue);
  const field = issue.path.map(String).join(".") || "body";
  const found = valueAt(body, issue.path);
  const row = boundsByField[issue.message];
  if (typeof found === "number" && (issue.code === "too_big" || issue.code === "too_small" || row)) {
    const limits = issue as { minimum?: number; maximum?: number };
    return {
      kind: "out-of-bounds",
      field: row?.label ?? field,
      found,
      min: row?.min ?? limits.minimum,
      max: row?.max ?? limits.maximum,
      unit: row?.unit,
    };
  }
  if (typeof found === "string" && issue.code === "custom" && issue.message === "hidden-character") {
    return { kind: "text-not-fit", field, reason: "hidden-character" };
  }
  if (typeof found === "string" && (issue.code === "too_small" || found.trim() === "")) {
    return { kind: "text-not-fit", field, reason: "empty" };
  }
  if (typeof found === "string" && (issue.code === "too_big" || issue.message === "too-long")) {
    return { kind: "text-not-fit", field, reason: "too-long" };
  }
  return { kind: "malformed", field, expected: expectedOf(issue) };
}

/** A check that knows what it wants says so in its message. */
const expectedOf = (issue: Issue): string => {
  if (issue.code === "invalid_type") return issue.expected;
  return issue.code === "custom" && issue.message !== "Invalid input" ? issue.message : "another form";
};

/** A union reports all its branches; the one that got furthest says most. */
function deepest(issue: Issue): Issue {
  if (issue.code !== "invalid_union") return issue;
  const inner = issue.errors.map((branch) => branch[0]).filter((found) => found !== undefined);
  const furthest = inner.sort((a, b) => b.path.length - a.path.length)[0];
  return furthest ? deepest({ ...furthest, path: [...issue.path, ...furthest.path] } as Issue) : issue;
}

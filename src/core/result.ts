/** A value, or the reason why there is none: refusals are data, because screens act on them. */
export type Result<Value, Refusal> = { ok: true; value: Value } | { ok: false; refusal: Refusal };

export const accept = <Value>(value: Value): { ok: true; value: Value } => ({ ok: true, value });
export const refuse = <Refusal>(refusal: Refusal): { ok: false; refusal: Refusal } => ({ ok: false, refusal });

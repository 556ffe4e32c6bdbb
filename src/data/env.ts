import * as z from "zod/mini";

const shape = z.object({
  DATABASE_URL: z.string().check(z.regex(/^postgres(ql)?:\/\//, "a postgresql:// address")),
  /** Connections that one process keeps; PostgreSQL has 60 in all. */
  DATABASE_POOL_SIZE: z._default(z.coerce.number().check(z.int(), z.gte(2), z.lte(50)), 10),
});

let parsed: z.infer<typeof shape> | undefined;

/** What this part reads from the environment, parsed once, at first use. */
export const env = (): z.infer<typeof shape> => {
  parsed ??= shape.parse(process.env);
  return parsed;
};

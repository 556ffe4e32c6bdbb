import type { GlueKind } from "~/core/tables/glue-times";

export const glueWords: Record<GlueKind, string> = {
  "white-glue": "White glue (PVA)",
  "yellow-glue": "Yellow glue (aliphatic)",
  "hide-glue": "Hot hide glue",
  epoxy: "Epoxy",
};

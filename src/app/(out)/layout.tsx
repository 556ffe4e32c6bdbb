import type { ReactNode } from "react";
import { Doorway } from "~/ui/entrance/doorway";

export default function EntranceLayout({ children }: { children: ReactNode }) {
  return <Doorway>{children}</Doorway>;
}

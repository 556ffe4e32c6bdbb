import type { ReactNode } from "react";
import { ShopShell } from "~/ui/shell/shop-shell";

export default function ShopLayout({ children }: { children: ReactNode }) {
  return <ShopShell buildId={process.env.TACKFREE_BUILD_ID ?? "development"}>{children}</ShopShell>;
}

import type { ReactNode } from "react";
import { ShopFrame } from "~/ui/shell/shop-frame";

export default function ShopLayout({ children }: { children: ReactNode }) {
  return <ShopFrame buildId={process.env.TACKFREE_BUILD_ID ?? "development"}>{children}</ShopFrame>;
}

import { Brush, Hammer, ListChecks, PackageOpen, Search, Wrench } from "lucide-react";
import type { Task } from "~/core/shop/tables";

const icons: Partial<Record<Task["sort"], typeof Wrench>> = {
  repair: Hammer,
  prep: Brush,
  inspect: Search,
  carry: PackageOpen,
  other: Wrench,
};

/** The subject of a task; its words stand beside it. */
export function WorkIcon({ sort }: { sort: Task["sort"] }) {
  const Icon = icons[sort] ?? ListChecks;
  return <Icon aria-hidden="true" size={24} />;
}

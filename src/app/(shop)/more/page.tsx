import { MoreScreen } from "~/ui/more/more-screen";

export default function MorePage() {
  return <MoreScreen />;
}

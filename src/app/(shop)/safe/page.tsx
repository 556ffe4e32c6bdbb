import { SafeScreen } from "~/ui/safe/safe-screen";

export default function SafePage() {
  return <SafeScreen />;
}

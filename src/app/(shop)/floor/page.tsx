import { FloorScreen } from "~/ui/floor/floor-screen";

export default function FloorPage() {
  return <FloorScreen />;
}

import { RoomsScreen } from "~/ui/rooms/rooms-screen";

export default function RoomsPage() {
  return <RoomsScreen />;
}

import { MembersScreen } from "~/ui/members/members-screen";

export default function MembersPage() {
  return <MembersScreen />;
}

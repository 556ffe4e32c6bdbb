import { Join } from "~/ui/entrance/join";

export default function JoinPage() {
  return <Join />;
}

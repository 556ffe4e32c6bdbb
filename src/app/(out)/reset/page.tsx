import { ResetPassword } from "~/ui/entrance/reset-password";

export default function ResetPage() {
  return <ResetPassword />;
}

import { SignIn } from "~/ui/entrance/sign-in";

export default function SignInPage() {
  return <SignIn />;
}

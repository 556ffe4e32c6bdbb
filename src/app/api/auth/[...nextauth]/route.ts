import NextAuth from "next-auth";
import { authOptions } from "~/api/auth";

const handler = (request: Request, context: unknown) => NextAuth(authOptions())(request, context);

export { handler as GET, handler as POST };

import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import { lightScript } from "~/ui/kit/light";
import "./globals.css";

export const metadata: Metadata = {
  title: "Tackfree",
  description: "The job board of a furniture-finishing workshop: who does what next, and is it ready?",
  manifest: "/manifest.webmanifest",
  icons: { icon: "/icon.svg" },
};

export const viewport: Viewport = { width: "device-width", initialScale: 1, viewportFit: "cover" };

export default function RootLayout({ children }: { children: ReactNode }) {
  return (
    <html lang="en" suppressHydrationWarning>
      <body>
        {/* before the first paint, so that a dim garage is not lit up */}
        {/* biome-ignore lint/security/noDangerouslySetInnerHtml: our own constant, no input reaches it */}
        <script dangerouslySetInnerHTML={{ __html: lightScript }} />
        {children}
      </body>
    </html>
  );
}

import { useRouter } from "next/navigation";
import { useEffect } from "react";

/** A plain click on a link to a page of this site changes the page without loading it anew. */
export function useClientNavigation(): void {
  const router = useRouter();
  useEffect(() => {
    const follow = (event: MouseEvent) => {
      const link = event.target instanceof Element ? event.target.closest("a[href]") : null;
      const isPlain = event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey;
      if (!(link instanceof HTMLAnchorElement) || !isPlain || event.defaultPrevented) return;
      if (link.origin !== location.origin || link.target === "_blank" || link.hasAttribute("download")) return;
      event.preventDefault();
      router.push(`${link.pathname}${link.search}${link.hash}`);
    };
    // before the link's own handlers, which do not let a click go on to the document
    document.addEventListener("click", follow, true);
    return () => document.removeEventListener("click", follow, true);
  }, [router]);
}

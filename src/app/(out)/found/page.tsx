import { FoundShop } from "~/ui/entrance/found-shop";

export default function FoundPage() {
  return <FoundShop />;
}

export default function BoardPage() {
  return null;
}

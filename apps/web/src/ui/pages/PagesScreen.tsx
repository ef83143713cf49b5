import { words } from '../words/index.ts';

export default function PagesScreen() {
  return <h1>{words.pages.title}</h1>;
}

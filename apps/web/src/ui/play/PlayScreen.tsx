import { words } from '../words/index.ts';

export default function PlayScreen() {
  return <h1>{words.play.title}</h1>;
}

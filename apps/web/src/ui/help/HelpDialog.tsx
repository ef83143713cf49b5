import { words } from '../words/index.ts';

export default function HelpDialog() {
  return <h1>{words.help.title}</h1>;
}

import { words } from '../words/index.ts';

export default function StudyScreen() {
  return <h1>{words.study.title}</h1>;
}

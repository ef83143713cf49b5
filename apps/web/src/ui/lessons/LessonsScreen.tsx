import { words } from '../words/index.ts';

export default function LessonsScreen() {
  return <h1>{words.lessons.title}</h1>;
}

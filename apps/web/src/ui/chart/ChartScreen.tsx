import { words } from '../words/index.ts';

export default function ChartScreen() {
  return <h1>{words.chart.title}</h1>;
}

/** Small lead sheets of our own and what came of them, for the tests of the reader. */
import { messageOf, type Chart, type Issue, type Result } from '@fivespan/core';

/** The chart that was read. */
export function chart(result: Result<Chart>): Chart {
  if (!result.ok) throw new Error(result.issues.map(messageOf).join('; '));
  return result.value;
}
/** What was said, as bar and code. */
export const warnings = (result: Result<Chart>): string[] =>
  (result.ok ? result.warnings : result.issues).map((each: Issue) => `${each.place.bar ?? '-'} ${each.code}`);
/** A score of one part from the insides of its measures. */
export function score(...measures: string[]): string {
  const body = measures.map((each, index) => `<measure number="${index + 1}">${each}</measure>`).join('');
  return `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list><part id="P1">${body}</part></score-partwise>`;
}
/** The attributes of a first measure: four quarters, C major, two divisions. */
export const FOUR =
  '<attributes><divisions>2</divisions><key><fifths>0</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>';
export const REST = '<note><rest/><duration>8</duration></note>';
export const HALF = '<note><rest/><duration>4</duration></note>';
/** A chord symbol; `more` are elements after the kind. */
export const harmony = (root: string, kind: string, more = ''): string =>
  `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind>${more}</harmony>`;

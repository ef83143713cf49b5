import { messageOf, remedyOf, type Issue } from '@fivespan/core';

/** More than this said of one input helps nobody. */
const MOST_ISSUES = 3_000;

/** Words of a machine that no musician should read, unless they typed them. */
const MACHINE_WORDS = /NaN|Infinity|undefined|\[object|Received|EISDIR|ENOENT|at .*\.ts:\d|call stack/u;
/** What a terminal or a page would obey instead of showing. */
// oxlint-disable-next-line no-control-regex -- they are what is looked for
const OBEYED = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/u;

/** Something an input brought about that must not be. */
export class Misbehaviour extends Error {
  override readonly name = 'Misbehaviour';
}

export function must(isSo: boolean, what: string): asserts isSo {
  if (!isSo) throw new Misbehaviour(what);
}

/** What is said about an input is for a musician: a sentence, without machine words of our own, and shown safely. */
export function judgeIssues(issues: readonly Issue[], input: string): void {
  must(issues.length <= MOST_ISSUES, `${issues.length} issues`);
  for (const issue of issues) {
    const said = `${messageOf(issue)}; ${remedyOf(issue)}`;
    must(!issue.code.endsWith('not-computed') && issue.code !== 'chart.not-read', `our own fault: ${said}`);
    const words = MACHINE_WORDS.exec(said)?.[0];
    must(words === undefined || input.includes(words), `machine words: ${said}`);
    must(!/\p{Surrogate}/u.test(said), `half a character: ${JSON.stringify(said)}`);
    must(!OBEYED.test(said), `a control sign: ${JSON.stringify(said)}`);
    must(said.length < 4000, `a message of ${said.length} characters`);
    const { line, column } = issue.place;
    must(line === undefined || (Number.isInteger(line) && line > 0), `line ${line}`);
    must(column === undefined || (Number.isInteger(column) && column > 0), `column ${column}`);
  }
}

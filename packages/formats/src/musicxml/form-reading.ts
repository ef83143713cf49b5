import { MOST_REPEAT_TIMES } from '@fivespan/core';
import type { ReadForm } from './read-part.ts';
import { child, numberOf, type Node } from './xml-node.ts';

/** A measure that says nothing of the form. */
export function emptyForm(): ReadForm {
  return {
    rehearsal: null,
    startsRepeat: false,
    endsRepeatTimes: 0,
    startsEnding: [],
    stopsEnding: false,
    segno: false,
    coda: false,
    toCoda: false,
    fine: false,
    jump: null,
    jumpUntil: 'end',
  };
}

/** Ending numbers: `1`, `1, 2`, `1.-3.`; unreadable ones count as the first. */
function endingNumbers(text: string): number[] {
  const numbers = new Set<number>();
  for (const [, from = '', to = from] of text.matchAll(/(\d{1,2})(?:[.\s]*[-–][.\s]*(\d{1,2}))?/gu)) {
    for (let each = Number(from); each <= Number(to) && numbers.size < 99; each++) numbers.add(each);
  }
  return numbers.size > 0 ? [...numbers].sort((a, b) => a - b) : [1];
}

/** What a bar line says: repeats, endings, signs. */
export function readBarline(node: Node, form: ReadForm): void {
  const repeat = child(node, 'repeat');
  const ending = child(node, 'ending');
  if (repeat?.attributes['direction'] === 'forward') form.startsRepeat = true;
  if (repeat?.attributes['direction'] === 'backward') {
    form.endsRepeatTimes = Math.max(
      2,
      Math.min(MOST_REPEAT_TIMES, Math.trunc(numberOf(repeat.attributes['times'], 2))),
    );
  }
  const type = ending?.attributes['type'];
  if (type === 'start') form.startsEnding = endingNumbers(ending?.attributes['number'] ?? '');
  if (type === 'stop' || type === 'discontinue') form.stopsEnding = true;
  if (child(node, 'segno') !== undefined) form.segno = true;
  if (child(node, 'coda') !== undefined) form.coda = true;
}

function jumpUntil(words: string): ReadForm['jumpUntil'] {
  if (/\bal\s+fine\b/iu.test(words)) return 'fine';
  return /\bal\s+(?:segno\s+e\s+poi\s+la\s+)?coda\b/iu.test(words) ? 'coda' : 'end';
}

/** Words of the form as musicians write them. */
export function readFormWords(words: string, form: ReadForm): void {
  if (/\bd\.?\s*c\.?(?!\w)|\bda\s+capo\b/iu.test(words)) form.jump = 'da capo';
  else if (/\bd\.?\s*s\.?(?!\w)|\bdal\s+segno\b/iu.test(words)) form.jump = 'dal segno';
  if (form.jump !== null && jumpUntil(words) !== 'end') form.jumpUntil = jumpUntil(words);
  if (/^\s*(?:to|al)\s+coda\b/iu.test(words)) form.toCoda = true;
  if (/^\s*fine\s*$/iu.test(words)) form.fine = true;
}

/** What the playback attributes say, which programs write beside the words. */
export function readSound(node: Node, form: ReadForm): void {
  const { attributes } = node;
  if (attributes['dacapo'] === 'yes') form.jump = 'da capo';
  if (attributes['dalsegno'] !== undefined) form.jump = 'dal segno';
  if (attributes['segno'] !== undefined) form.segno = true;
  if (attributes['coda'] !== undefined) form.coda = true;
  if (attributes['tocoda'] !== undefined) form.toCoda = true;
  if (attributes['fine'] !== undefined) form.fine = true;
}

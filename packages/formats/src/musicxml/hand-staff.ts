import type { HandSide, Issue, Result } from '@fivespan/core';
import { failure } from './failure.ts';
import type { WrittenNote, WrittenPart } from './part-reading.ts';

/** Which staff is asked for, counted from 1; where a number is left out the score has to make it clear. */
export interface StaffChoice {
  readonly side: HandSide;
  readonly part?: number;
  readonly staff?: number;
}

/** A staff with notes on it. */
export interface HandStaff {
  readonly part: WrittenPart;
  /** Counted from 1. */
  readonly partNumber: number;
  readonly staff: number;
  readonly clef: string;
  readonly notes: readonly WrittenNote[];
}

/** More staves than this are not listed one by one. */
const MOST_LISTED = 12;

function stavesOf(parts: readonly WrittenPart[]): HandStaff[] {
  return parts.flatMap((part, index) => {
    const numbers = [...new Set(part.notes.map((note) => note.staff))].sort((a, b) => a - b);
    return numbers.map((staff) => ({
      part,
      partNumber: index + 1,
      staff,
      clef: part.clefs.get(staff) ?? '',
      notes: part.notes.filter((note) => note.staff === staff),
    }));
  });
}

function nameOf({ part, partNumber, staff }: HandStaff): string {
  return `part ${partNumber}${part.name === '' ? '' : ` '${part.name}'`}, staff ${staff}`;
}

function listOf(staves: readonly HandStaff[]): string {
  const more = staves.length > MOST_LISTED ? ` and ${staves.length - MOST_LISTED} more` : '';
  return staves.slice(0, MOST_LISTED).map(nameOf).join('; ') + more;
}

/** The staff of a hand in a part: of two the upper or the lower, of one that one. */
function staffInPart(staves: readonly HandStaff[], side: HandSide): HandStaff | undefined {
  const [first, second, ...more] = staves;
  if (more.length > 0) return undefined;
  if (second !== undefined) return side === 'right' ? first : second;
  // the only staff with notes; but where the part has an empty one for the other hand, it is that hand's
  if (first === undefined || first.part.clefs.size !== 2) return first;
  return (first.staff === 1) === (side === 'right') ? first : undefined;
}

/** The staff of a hand where nothing is asked for: of the only part, of the only part on two staves, or by the clefs. */
function staffByItself(staves: readonly HandStaff[], side: HandSide): HandStaff | undefined {
  const parts = [...new Set(staves.map(({ part }) => part))];
  if (parts.length === 1) return staffInPart(staves, side);
  const onTwoStaves = parts.filter(
    (part) => Math.max(part.clefs.size, staves.filter((each) => each.part === part).length) === 2,
  );
  if (onTwoStaves.length === 1) {
    return staffInPart(
      staves.filter(({ part }) => part === onTwoStaves[0]),
      side,
    );
  }
  if (onTwoStaves.length > 1) return undefined;
  const fitting = staves.filter(({ clef }) => clef === (side === 'right' ? 'G' : 'F'));
  return fitting.length === 1 ? fitting[0] : undefined;
}

/**
 * The staff a hand plays. Right hand: the upper of two staves; left hand: the lower; a part with one staff: that one for
 * either hand. With several parts the only one on two staves, else the only staff with a treble (right) or bass clef
 * (left). A staff chosen out of several parts is reported as a warning; where nothing is clear, the staves are listed.
 */
export function handStaff(parts: readonly WrittenPart[], { side, part, staff }: StaffChoice): Result<HandStaff> {
  const staves = stavesOf(parts);
  const fitting = staves.filter(
    (each) => (part === undefined || each.partNumber === part) && (staff === undefined || each.staff === staff),
  );
  const isAsked = part !== undefined || staff !== undefined;
  if (staves.length === 0 || (isAsked && fitting.length === 0)) {
    const asked = [
      ...(part === undefined ? [] : [`part ${part}`]),
      ...(staff === undefined ? [] : [`staff ${staff}`]),
    ].join(', ');
    return failure('fingering.which-part', { side, asked: asked || 'staff', staves: listOf(staves) });
  }
  const [only] = fitting;
  const found = isAsked && fitting.length === 1 ? only : staffByItself(fitting, side);
  if (found === undefined) return failure('fingering.which-part', { side, asked: '', staves: listOf(staves) });
  const isPlain = isAsked || new Set(staves.map((each) => each.part)).size === 1;
  const args = { side, where: nameOf(found), remedy: `for another, --part N --staff N: ${listOf(staves)}` };
  const warnings: Issue[] = isPlain ? [] : [{ code: 'fingering.hand-taken', args, place: {} }];
  return { ok: true, value: found, warnings };
}

import type { ChordSymbol } from '@fivespan/core';
import { chordText, splitSuffix, type ChordText } from '../diagram/note-text.ts';
import { signRuns } from './signs.ts';

/**
 * How much smaller than its root a symbol's parts are: the smaller a symbol is set, the closer its steps. `large` from 28 px
 * on; `text` 16 to 27 px, and on paper from 11 pt on; `small` below; `bench` where it is read from an arm's length and more.
 */
export type ChordStep = 'large' | 'text' | 'small' | 'bench';

/** A step's sizes, in ems of the root. */
export interface ChordSizes {
  /** The kind, on the line: `m7`, `maj7`. */
  readonly kindEms: number;
  /** Alterations, raised until their tops meet the capital's: `♭5`, `(♭9)`, `alt`. */
  readonly raisedEms: number;
  /** How much larger than the digits beside it a raised sign is set, which else would fade. */
  readonly raisedSign: number;
}

/** Found by looking, at 12 to 268 px. The style sheet of ChordName.tsx has the same numbers; a test compares them. */
export const CHORD_STEPS: Readonly<Record<ChordStep, ChordSizes>> = {
  large: { kindEms: 0.66, raisedEms: 0.52, raisedSign: 1 },
  bench: { kindEms: 0.66, raisedEms: 0.6, raisedSign: 1 },
  text: { kindEms: 0.76, raisedEms: 0.62, raisedSign: 1.14 },
  small: { kindEms: 0.86, raisedEms: 0.74, raisedSign: 1.14 },
};

/** Root and bass note after the slash, in ems of the root. */
export const BASS_EMS = 0.82;

/** Source Serif 4's capital, in ems: its OS/2 table. */
export const CAPITAL_EMS = 0.67;

/** Room before the kind and before what is raised, in ems of each. */
export const GAP_EMS = { kind: 0.03, raised: 0.06 } as const;

/** Room before the sign after a letter, in ems: an F is open below its arm, an A leans away. Found by looking. */
export const SIGN_GAPS_EMS: Readonly<Record<string, number>> = { F: -0.05, A: -0.02, C: 0.01, G: 0.01 };
/** After any other letter. */
export const SIGN_GAP_EMS = -0.005;

/** A stretch of a chord symbol in one size, on one line, in one face. */
export interface ChordPiece {
  readonly part: 'root' | 'kind' | 'raised' | 'bass';
  readonly text: string;
  /** Whether it is set in the sign font. */
  readonly isSign: boolean;
  /** Whether a sign is set a step bolder than the letters: small ones would fade. */
  readonly isBolder: boolean;
  /** Size, in ems of the symbol. */
  readonly sizeEms: number;
  /** Above the baseline, in ems of the symbol. */
  readonly riseEms: number;
  /** Room before it, in ems of the symbol. */
  readonly gapEms: number;
}

/**
 * A chord symbol as it is set everywhere (screen, page, engraved music): the root large, its kind smaller on the same line,
 * alterations raised so that their tops meet the capital's, accidentals in the weight of the letters, the bass after a slash.
 * @example chordPieces(parsed, 'text').map(({ text }) => text) // → ['B', '♭', '7', '(', '♭', '9)'] of B♭7(♭9)
 */
export function chordPieces(chord: ChordSymbol, step: ChordStep): ChordPiece[] {
  return piecesOfText(chordText(chord), step);
}

/** As it is printed on one line: root, kind, what is raised, bass. */
const PRINTED = /^([A-G](?:[♭♯]{1,2}|[𝄫𝄪])?)([^/]*(?:6\/9[^/]*)?)(?:\/([A-G](?:[♭♯]{1,2}|[𝄫𝄪])?))?$/u;

/**
 * The pieces of a symbol that is already text, as the engraver has it; null where it is no chord symbol.
 * @example printedChordPieces('B♭7(♭9)', 'text')?.length // → 6
 */
export function printedChordPieces(line: string, step: ChordStep): ChordPiece[] | null {
  const found = PRINTED.exec(line);
  if (found === null) return null;
  const [, root = '', suffix = '', bass = ''] = found;
  return piecesOfText({ root, ...splitSuffix(suffix), bass }, step);
}

function piecesOfText({ root, quality, raised, bass }: ChordText, step: ChordStep): ChordPiece[] {
  const { kindEms, raisedEms, raisedSign } = CHORD_STEPS[step];
  const isName = /^[A-G]/u.test(root);
  const piecesOf = (
    part: ChordPiece['part'],
    text: string,
    sizeEms: number,
    options: { riseEms?: number; gapEms?: number; signScale?: number },
  ): ChordPiece[] =>
    signRuns(text).map(({ text: run, isSign }, index, all) => {
      const before = all[index - 1]?.text.at(-1);
      const afterLetter = isSign && before !== undefined && part !== 'raised' && part !== 'kind';
      return {
        part,
        text: run,
        isSign,
        isBolder: isSign && (step === 'small' || (step === 'text' && part === 'raised')),
        sizeEms: sizeEms * (isSign ? (options.signScale ?? 1) : 1),
        riseEms: options.riseEms ?? 0,
        gapEms:
          index === 0 ? (options.gapEms ?? 0) : afterLetter ? (SIGN_GAPS_EMS[before] ?? SIGN_GAP_EMS) * sizeEms : 0,
      };
    });
  return [
    ...piecesOf('root', root, isName ? 1 : kindEms, {}),
    ...piecesOf('kind', quality, kindEms, { gapEms: GAP_EMS.kind * kindEms }),
    ...piecesOf('raised', raised, raisedEms, {
      riseEms: CAPITAL_EMS * (1 - raisedEms),
      gapEms: GAP_EMS.raised * raisedEms,
      signScale: raisedSign,
    }),
    ...piecesOf('bass', bass === '' ? '' : `/${bass}`, BASS_EMS, {}),
  ];
}

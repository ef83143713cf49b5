import { readFile, stat } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import {
  DEFAULT_CHOICES,
  FINGERING_MODEL_IDS,
  FINGERING_RULES,
  fingeringModel,
  typeset,
  type Finger,
  type Fingering,
  type FingeringModel,
  type FingeringModelId,
  type HandSide,
  type Issue,
  type Result,
} from '@fivespan/core';
import type { HandNote } from '@fivespan/formats/musicxml';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { isSameFile, reasonOf } from '../fault.ts';
import { Interrupted } from '../interrupt.ts';
import { lineOfIssue, reportIssue } from '../input.ts';
import { writeStaged } from '../lesson/staged-folder.ts';
import { choiceOf, choicesOf, textOf } from '../options.ts';
import { table } from '../table.ts';

/** Larger than any score; what is larger is refused unread. */
const LARGEST_FILE_BYTES = 32 * 1024 * 1024;

/** From here on it takes more than a moment, and progress is shown. */
const MANY_NOTES = 3000;

/** Endings a copy can have, by the kind of the input; a packed score may also be written plain. */
const ENDINGS = {
  score: ['.musicxml', '.xml'],
  'packed score': ['.mxl', '.musicxml', '.xml'],
  MIDI: ['.mid', '.midi'],
} as const;

/** A file's notes for one hand, and how a copy with fingers is written. */
interface HandFile {
  readonly kind: keyof typeof ENDINGS;
  readonly notes: readonly HandNote[];
  readonly write: (fingers: readonly Finger[], asPlain: boolean) => Uint8Array;
}

/** A note with its finger, for people and programs. */
interface Fingered {
  readonly note: HandNote;
  readonly finger: Finger;
}

function numberOption(call: Call, name: 'part' | 'staff' | 'track' | 'ways'): number | undefined {
  const text = textOf(call, name);
  if (text === undefined) return undefined;
  if (!/^[1-9]\d{0,3}$/u.test(text)) throw new UsageError(`--${name} takes a number, counted from 1, not '${text}'`);
  return Number(text);
}

/** How many fingerings are printed, the best first. */
const MOST_WAYS = 10;

function waysOf(call: Call): number {
  const ways = numberOption(call, 'ways') ?? 1;
  if (ways > MOST_WAYS) throw new UsageError(`--ways takes a number from 1 to ${MOST_WAYS}, not '${ways}'`);
  return ways;
}

/** The next-best fingerings: what each costs, and the notes that take another finger than in the copy. */
function otherBlocks(
  notes: readonly HandNote[],
  best: readonly Finger[],
  others: readonly { readonly fingers: readonly Finger[]; readonly fingering: Fingering }[],
): string[] {
  return others.map(({ fingers, fingering }, index) => {
    const changed = notes
      .map((note, at): Fingered => ({ note, finger: fingers[at] as Finger }))
      .filter(({ finger }, at) => finger !== best[at]);
    const { points } = fingering;
    return `Way ${index + 2} costs ${points} ${points === 1 ? 'point' : 'points'}; other fingers on:\n${barLines(changed)}`;
  });
}

function handSideOf(call: Call): HandSide {
  const side = textOf(call, 'hand-side');
  if (side === 'right' || side === 'left') return side;
  throw new UsageError(
    side === undefined ? '--hand-side right or left is missing' : `--hand-side takes right, left, not '${side}'`,
  );
}

/** The model asked for; a size of hand without one asks for the one that heeds it. */
function modelOf(call: Call): { readonly model: FingeringModel; readonly remark: string | null } {
  const { hand } = choicesOf(call, DEFAULT_CHOICES);
  const isSized = textOf(call, 'hand') !== undefined;
  const usual = isSized ? 'balliauw' : 'fivespan';
  const models = FINGERING_MODEL_IDS as readonly [FingeringModelId, ...FingeringModelId[]];
  const model = fingeringModel(choiceOf(call, 'model', [...models], usual), hand);
  if (!isSized) return { model, remark: null };
  if (model.id !== 'balliauw') {
    return {
      model,
      remark: `--hand changes nothing with --model ${model.id}: only balliauw heeds the size of the hand`,
    };
  }
  return {
    model,
    remark:
      textOf(call, 'model') === undefined ? 'model balliauw is taken, the one that heeds the size of the hand' : null,
  };
}

async function bytesOf(file: string): Promise<Result<Uint8Array>> {
  const refuse = (code: 'file.missing' | 'file.too-large'): Result<never> => ({
    ok: false,
    issues: [{ code, args: { file, limit: LARGEST_FILE_BYTES }, place: {} }],
  });
  const about = await stat(file).catch(() => null);
  if (about === null || !about.isFile()) return refuse('file.missing');
  if (about.size > LARGEST_FILE_BYTES) return refuse('file.too-large');
  return { ok: true, value: await readFile(file), warnings: [] };
}

function startsWith(bytes: Uint8Array, text: string): boolean {
  return Array.from(text).every((each, index) => bytes[index] === each.charCodeAt(0));
}

/** What the bytes hold, their content says, not their name. */
function kindOf(bytes: Uint8Array): HandFile['kind'] | null {
  if (startsWith(bytes, 'MThd')) return 'MIDI';
  if (startsWith(bytes, 'PK')) return 'packed score';
  // text in any encoding of XML: its first letter that is no mark, zero or space is <
  const first = bytes.find((each) => ![0, 9, 10, 13, 32, 0xef, 0xbb, 0xbf, 0xfe, 0xff].includes(each));
  return first === 0x3c ? 'score' : null;
}

async function readHand(call: Call, bytes: Uint8Array, side: HandSide): Promise<Result<HandFile>> {
  const [part, staff, track] = [numberOption(call, 'part'), numberOption(call, 'staff'), numberOption(call, 'track')];
  const kind = kindOf(bytes);
  if (kind === null) return { ok: false, issues: [{ code: 'fingering.file-kind', args: {}, place: {} }] };
  if (kind === 'MIDI') {
    if (part !== undefined || staff !== undefined) throw new UsageError('a MIDI file has tracks: --track N');
    const { readMidiHand, writeMidiFingers } = await import('@fivespan/formats/midi');
    const hand = readMidiHand(bytes, { side, ...(track === undefined ? {} : { track }) });
    if (!hand.ok) return hand;
    const { value } = hand;
    return { ...hand, value: { kind, notes: value.notes, write: (fingers) => writeMidiFingers(value, fingers) } };
  }
  if (track !== undefined) throw new UsageError('a score has parts and staves: --part N --staff N');
  const { readScoreHand, writeScoreFingers } = await import('@fivespan/formats/musicxml');
  const choice = { side, ...(part === undefined ? {} : { part }), ...(staff === undefined ? {} : { staff }) };
  const hand = readScoreHand(bytes, choice);
  if (!hand.ok) return hand;
  const { value } = hand;
  const write: HandFile['write'] = (fingers, asPlain) =>
    writeScoreFingers(value, fingers, asPlain ? 'plain' : 'as it came');
  return { ...hand, value: { kind, notes: value.notes, write } };
}

/** Where the copy goes: as asked, else beside the file, `NAME.fingered` and its ending. Never onto the file itself. */
async function outOf(call: Call, file: string, kind: HandFile['kind']): Promise<string> {
  const ending = extname(file);
  const endings: readonly string[] = ENDINGS[kind];
  const own = endings.includes(ending.toLowerCase()) ? ending : (endings[0] as string);
  const out = textOf(call, 'out') ?? join(dirname(file), `${basename(file, ending)}.fingered${own}`);
  if (!endings.includes(extname(out).toLowerCase())) {
    throw new UsageError(
      `--out: a copy of a ${kind} file ends in ${endings.join(' or ')}, not as '${basename(out)}' does`,
    );
  }
  if (await isSameFile(file, out)) {
    throw new UsageError(`--out is the file itself; the copy needs another name than '${out}'`);
  }
  return out;
}

/** Names of the keys; a MIDI file does not say how a black one is spelled. */
const KEY_NAMES = ['C', 'C♯/D♭', 'D', 'D♯/E♭', 'E', 'F', 'F♯/G♭', 'G', 'G♯/A♭', 'A', 'A♯/B♭', 'B'];

function nameOf({ name, midi }: HandNote): string {
  return name === null ? `${KEY_NAMES[midi % 12]}${Math.floor(midi / 12) - 1}` : typeset(name);
}

/** Bar by bar, notes struck together joined by +, lowest first. */
function barLines(fingered: readonly Fingered[]): string {
  const rows: { readonly bar: number; readonly strikes: { readonly strike: number; readonly notes: Fingered[] }[] }[] =
    [];
  for (const each of fingered) {
    const { bar, strike } = each.note;
    if (rows.at(-1)?.bar !== bar) rows.push({ bar, strikes: [] });
    const strikes = rows.at(-1)?.strikes ?? [];
    if (strikes.at(-1)?.strike === strike) strikes.at(-1)?.notes.push(each);
    else strikes.push({ strike, notes: [each] });
  }
  const textOfStrike = (notes: readonly Fingered[]): string =>
    [...notes]
      .sort((a, b) => a.note.midi - b.note.midi)
      .map(({ note, finger }) => `${nameOf(note)}·${finger}`)
      .join('+');
  return table([
    ['bar', 'notes and fingers'],
    ...rows.map(({ bar, strikes }) => [`${bar}`, strikes.map(({ notes }) => textOfStrike(notes)).join(' ')]),
  ]);
}

function costLines({ points, pointsByRule, beyondPractical }: Fingering): string[] {
  const rules = FINGERING_RULES.filter((rule) => pointsByRule[rule] > 0).map((rule) => `${rule} ${pointsByRule[rule]}`);
  const cost = `It costs ${points} ${points === 1 ? 'point' : 'points'}${rules.length === 0 ? '' : `: ${rules.join(', ')}`}.`;
  if (beyondPractical === 0) return [cost];
  const steps = beyondPractical === 1 ? '1 step lies' : `${beyondPractical} steps lie`;
  return [
    cost,
    `${steps} beyond what the model calls practical: leaps, wide chords, or fingers already written.`,
    'Roll or leave out what does not fit your hand; take breaks, and stop where it hurts.',
  ];
}

function tellFaults(call: Call, file: string, issues: readonly Issue[]): ExitCode {
  if (call.options['json'] === true) {
    process.stdout.write(`${JSON.stringify({ version: 1, file, issues: issues.map(reportIssue) })}\n`);
  } else {
    process.stderr.write(issues.map((issue) => `${lineOfIssue(file, issue)}\n`).join(''));
    process.stderr.write('Nothing was written.\n');
  }
  return EXIT.faults;
}

/** Writes fingers into a copy of a score or a MIDI file. */
export async function run(call: Call): Promise<ExitCode> {
  const [file, ...more] = call.operands;
  if (file === undefined || more.length > 0) throw new UsageError('takes one file');
  const side = handSideOf(call);
  const { model, remark } = modelOf(call);
  const ways = waysOf(call);
  const bytes = await bytesOf(file);
  if (!bytes.ok) return tellFaults(call, file, bytes.issues);
  const hand = await readHand(call, bytes.value, side);
  if (!hand.ok) return tellFaults(call, file, hand.issues);
  const out = await outOf(call, file, hand.value.kind);
  const { fingerLine } = await import('@fivespan/formats/musicxml');
  const { length } = hand.value.notes;
  if (length >= MANY_NOTES && process.stderr.isTTY) process.stderr.write(`fingering ${length} notes …\n`);
  const line = fingerLine(hand.value.notes, { side, model, ways });
  if (!line.ok) return tellFaults(call, file, line.issues);
  if (remark !== null) process.stderr.write(`fivespan fingering: ${remark}\n`);
  for (const warning of [...hand.warnings, ...line.warnings]) process.stderr.write(`${lineOfIssue(file, warning)}\n`);

  const { fingers, fingering, others } = line.value;
  const copy = hand.value.write(fingers, hand.value.kind === 'packed score' && !/\.mxl$/iu.test(out));
  try {
    await writeStaged(dirname(out), [{ path: basename(out), bytes: copy }]);
  } catch (error) {
    if (error instanceof Interrupted) throw error;
    process.stderr.write(`fivespan fingering: cannot write to '${out}': ${reasonOf(error)}\n`);
    return EXIT.faults;
  }
  const fingered = hand.value.notes.map((note, index): Fingered => ({ note, finger: fingers[index] as Finger }));
  if (call.options['json'] === true) {
    const { points, pointsByRule, beyondPractical } = fingering;
    const notes = fingered.map(({ note: { bar, startTicks, name, midi }, finger }) => ({
      bar,
      startTicks,
      ...(name === null ? {} : { name }),
      midi,
      finger,
    }));
    const report = {
      version: 1,
      file,
      handSide: side,
      model: model.id,
      points,
      pointsByRule,
      beyondPractical,
      notes,
      ...(ways === 1 ? {} : { others: others.map(({ fingering: { points }, fingers }) => ({ points, fingers })) }),
      out,
    };
    process.stdout.write(`${JSON.stringify(report)}\n`);
    return EXIT.done;
  }
  const count = `${fingered.length} ${fingered.length === 1 ? 'note' : 'notes'}`;
  const heading = [basename(file), `${side} hand`, count, `model ${model.id} (${model.name})`].join(' · ');
  const blocks = [
    heading,
    barLines(fingered),
    costLines(fingering).join('\n'),
    ...otherBlocks(hand.value.notes, fingers, others),
    `The copy is in ${out}`,
  ];
  process.stdout.write(`${blocks.join('\n\n')}\n`);
  return EXIT.done;
}

import { isLeap, LINE_RULES, PARTS, typeset } from '@fivespan/core';
import { useEffect, type KeyboardEvent } from 'react';
import { $midi, connectKeyboard, connectKnownKeyboard, onMidi } from '../../features/sound/index.ts';
import {
  $spot,
  $written,
  composeAgain,
  isOwnAt,
  lengthAt,
  isLine,
  noteAtSpot,
  setWriting,
  voicingFaultsAt,
  write,
  type Spot,
  type Study,
  type Written,
  type WritingOrder,
} from '../../features/study/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { noteTold, type Naming } from './note-told.ts';
import styles from './WritingTools.module.css';

/** Note lengths by the key that is named after them; ticks. */
const LENGTHS = { 1: 3840, 2: 1920, 4: 960, 8: 480, 3: 320, 6: 240 } as const;
/** Those that are offered, longest first. */
const OFFERED = [3840, 2880, 1920, 1440, 960, 720, 480, 320, 240] as const;

const isOffered = (ticks: number): ticks is (typeof OFFERED)[number] => OFFERED.some((each) => each === ticks);

/** What a key does to the note one stands on, by the keys that are held with it. */
function orderOf({ key, shiftKey, altKey }: KeyboardEvent): WritingOrder | undefined {
  const way = key === 'ArrowUp' ? 1 : key === 'ArrowDown' ? -1 : 0;
  if (way !== 0) {
    if (altKey) return { kind: 'half steps', semitones: 12 * way };
    return shiftKey ? { kind: 'half steps', semitones: way } : { kind: 'step', steps: way };
  }
  if (altKey) return undefined;
  if (shiftKey && (key === 'ArrowLeft' || key === 'ArrowRight')) {
    return { kind: 'shift', way: key === 'ArrowLeft' ? -1 : 1 };
  }
  if (Object.hasOwn(LENGTHS, key)) return { kind: 'last', durationTicks: LENGTHS[Number(key) as keyof typeof LENGTHS] };
  switch (key) {
    case '.':
      return { kind: 'dotted' };
    case 'Delete':
    case 'Backspace':
      return { kind: 'take out' };
    case 'Insert':
    case 'a':
    case 'A':
      return { kind: 'add' };
    default:
      return undefined;
  }
}

/** Changes the note one stands on by a key. @returns whether the key was one of these */
export function onWriteKey(event: KeyboardEvent): boolean {
  if (event.ctrlKey || event.metaKey) return false;
  if (event.key === 'Escape') {
    setWriting(false);
    return true;
  }
  const order = orderOf(event);
  if (order === undefined) return false;
  write(order);
  return true;
}

/** While notes are changed, a key struck on a connected keyboard takes the note's place. */
export function useMidiWriting(isWriting: boolean): void {
  useEffect(() => {
    if (!isWriting) return undefined;
    void connectKnownKeyboard();
    return onMidi((message) => {
      if (message.kind === 'note on') write({ kind: 'played', key: message.midi });
    });
  }, [isWriting]);
}

/** What was just written, said at once, before it is fingered and engraved; nothing where nothing was. */
function saidOf({ lesson }: Study, naming: Naming, written: Written | null): string {
  const part = PARTS.find(({ id }) => id === written?.part);
  if (written === null || part === undefined) return '';
  const { pitch, startTicks, why } = written;
  const score = { pitch, startTicks, durationTicks: 0, finger: null };
  return noteTold(lesson, { role: part.staff, written: score, slotIndex: 0, why }, naming).said;
}

/** What a hand or an ear has against what is written at a spot, in words; empty where nothing. */
function faultsSaid(study: Study, spot: Spot): string {
  if (!isLine(spot.part)) {
    return voicingFaultsAt(study, spot)
      .map((fault) => typeset(words.study.writing.voicingFault(fault)))
      .join(' ');
  }
  const { lesson, isCurrent } = study;
  const note = isCurrent && LINE_RULES[spot.part].inPosition ? noteAtSpot(study, spot) : undefined;
  if (note === undefined || note.written.finger === null) return '';
  const index = lesson.chorus.findIndex((each) => each.startTicks === spot.startTicks);
  return isLeap(lesson.chorus, index, lesson.choices.hand) ? words.study.writing.leap : '';
}

/** What was just written, in a screen reader's ear; the note one stands on, and whether the hand leaps to it, for the eye. */
function Told({ study, spot, naming }: ToolsProps & { readonly spot: Spot }) {
  const written = useStore($written);
  const note = noteAtSpot(study, spot);
  const said = saidOf(study, naming, written);
  const faults = faultsSaid(study, spot);
  const told = note === undefined ? null : noteTold(study.lesson, note, naming);
  return (
    <div className={styles.told}>
      <p role="status" className="unseen">
        {said} {said !== '' && faults}
      </p>
      {told !== null && (
        <p aria-hidden="true">
          <span className="soft">{told.place}</span> <span className={styles.why}>{told.why}</span> {faults}
        </p>
      )}
    </div>
  );
}

/** How long the note is, and another length for it. */
function Length({ study, spot }: { readonly study: Study; readonly spot: Spot }) {
  const text = words.study.writing;
  const ticks = lengthAt(study, spot);
  return (
    <label className={styles.length}>
      {text.lengths}{' '}
      <select
        value={ticks ?? ''}
        disabled={ticks === undefined}
        onChange={({ target }) => write({ kind: 'last', durationTicks: Number(target.value) })}
      >
        {ticks === undefined ? (
          <option value="">–</option>
        ) : (
          !isOffered(ticks) && <option value={ticks}>{text.otherLength(String(Math.round(ticks / 9.6) / 100))}</option>
        )}
        {OFFERED.map((each) => (
          <option key={each} value={each}>
            {text.length[each]}
          </option>
        ))}
      </select>
    </label>
  );
}

interface ToolsProps {
  readonly study: Study;
  readonly naming: Naming;
}

/** What can be done to the note one stands on, and what it does now. */
export function WritingTools({ study, naming }: ToolsProps) {
  const spot = useStore($spot);
  const midi = useStore($midi);
  if (spot === null) return null;
  const isThere = noteAtSpot(study, spot) !== undefined;
  const isOwn = isOwnAt(study, spot);
  const isHeld = !isLine(spot.part);
  const text = words.study.writing;
  const does = (what: keyof typeof text.short, order: WritingOrder, label: string = text[what]) => (
    <button
      type="button"
      aria-label={label}
      disabled={what !== 'add' && !isThere}
      onClick={() => write(order)}
      className={styles.does}
    >
      <span className={styles.long}>{label}</span>
      <span className={styles.short}>{text.short[what]}</span>
    </button>
  );
  const state = isHeld
    ? isOwn
      ? text.ownVoicing
      : text.composedVoicing
    : isThere
      ? isOwn
        ? text.own
        : text.composed
      : text.nothingHere;
  return (
    <div className={styles.tools} role="group" aria-label={text.tools}>
      <div className={styles.row}>
        {does('up', { kind: 'step', steps: 1 })}
        {does('down', { kind: 'step', steps: -1 })}
        {does('halfUp', { kind: 'half steps', semitones: 1 })}
        {does('halfDown', { kind: 'half steps', semitones: -1 })}
        {!isHeld && does('earlier', { kind: 'shift', way: -1 })}
        {!isHeld && does('later', { kind: 'shift', way: 1 })}
        {!isHeld && <Length study={study} spot={spot} />}
        {does('add', { kind: 'add' }, isThere ? text.add : text.addHere)}
        {does('takeOut', { kind: 'take out' })}
        {isOwn && (
          <button type="button" onClick={() => composeAgain(spot)}>
            {text.again}
          </button>
        )}
      </div>
      <Told study={study} spot={spot} naming={naming} />
      <div className={styles.beside}>
        <p className={`soft ${styles.state}`}>
          {state} {midi.kind === 'open' && text.connected}
        </p>
        <div className={styles.row}>
          <details>
            <summary>{text.keysTitle}</summary>
            <dl className={styles.keys}>
              {text.keys.map(([key, says]) => (
                <div key={key}>
                  <dt>{key}</dt>
                  <dd>{says}</dd>
                </div>
              ))}
            </dl>
          </details>
          {midi.kind !== 'open' && midi.kind !== 'none' && (
            <button
              type="button"
              className="plain"
              disabled={midi.kind === 'asking'}
              onClick={() => void connectKeyboard()}
            >
              {text.connect}
            </button>
          )}
        </div>
      </div>
    </div>
  );
}

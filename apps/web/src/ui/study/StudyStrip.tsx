import type { Key } from '@fivespan/core';
import { useCallback, useEffect, useMemo, useRef, type KeyboardEvent } from 'react';
import {
  $deskView,
  $study,
  $walkView,
  chartView,
  chooseSlot,
  stretchHeard,
  type BarView,
  type ChartView,
  type DeskView,
  type Study,
} from '../../features/study/index.ts';
import { useRoom } from '../keyboard/use-room.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { figureRound, isNumbered, LONG_FROM_BARS, setStrip, slotAfterKey, type StripRow } from './strip-rows.ts';
import { StripSlot } from './StripSlot.tsx';
import styles from './StudyStrip.module.css';

/** Below this width, in letters' heights, chords are a step smaller. */
const WIDE_EM = 44;
/** Sizes of a chord, in letters' heights (style sheet). */
const CHORD_EM = { wide: 1.25, narrow: 1.0625, dense: 0.9375 };
/** A long chart has sixteen bars in a line, two steps smaller, where a line is at least so wide in letters' heights. */
const DENSE_FROM_EM = 60;
/** A chart of more lines shows numerals and thumbs only in the line one is in; lines of four or less are short, and may be more. */
const MOST_FULL_ROWS = { wide: 4, narrow: 7 };

/** The chart in a few numbered lines: where one chooses the chord to study. */
export function StudyStrip({ study }: { readonly study: Study }) {
  const { lesson, choices, name } = study;
  const desk = useStore($deskView);
  const view = useMemo(() => chartView(lesson, choices.pins, name.pass), [lesson, choices.pins, name.pass]);
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const widthEm = room?.widthEm ?? WIDE_EM;
  const isWide = widthEm >= WIDE_EM;
  const bars = view.sections.reduce((sum, section) => sum + section.bars.length, 0);
  const isDense = bars >= LONG_FROM_BARS && widthEm >= DENSE_FROM_EM;
  const roomEms = widthEm / CHORD_EM[isDense ? 'dense' : isWide ? 'wide' : 'narrow'];
  const { rows, columns, hasNumbersBeside } = useMemo(
    () => setStrip(view, roomEms, isDense ? 16 : 8),
    [view, roomEms, isDense],
  );
  const isLong = rows.length > (columns >= 8 ? MOST_FULL_ROWS.wide : MOST_FULL_ROWS.narrow);
  useWalkMark(box);

  // the same function as long as the chart is the same: choosing a chord draws two of them anew, not all
  const onKeyDown = useCallback(
    (event: KeyboardEvent): void => {
      const now = $study.get();
      if (now === null) return;
      const to = slotAfterKey(event.key, rows, now.name.slot);
      if (to === undefined) {
        const { startTicks, endTicks } = now.planned.analysed.played;
        onHearKey(() => stretchHeard(now.lesson, startTicks, endTicks))(event);
        return;
      }
      event.preventDefault();
      chooseSlot(to.name);
      box.current?.querySelector<HTMLElement>(`[data-slot="${to.index}"]`)?.focus();
    },
    [rows],
  );
  const chosen = view.sections
    .flatMap(({ bars }) => bars.flatMap((bar) => bar.slots.map((slot) => ({ slot, at: bar.place + slot.from }))))
    .find(({ slot }) => slot.name.slot === name.slot);
  const figure = chosen === undefined ? null : figureRound(view, chosen.at);
  return (
    <section aria-labelledby="study-chart" className={styles.section}>
      <h2 id="study-chart" className="unseen">
        {words.study.chart}
      </h2>
      <div
        ref={box}
        className={styles.chart}
        role="listbox"
        tabIndex={-1}
        aria-labelledby="study-chart"
        aria-describedby="study-chart-help"
        aria-keyshortcuts={HEAR_KEY}
        data-numbers={hasNumbersBeside ? 'beside' : 'over'}
        data-long={isLong || isDense || undefined}
        data-dense={isDense || undefined}
      >
        {rows.map((row) => (
          <Line
            key={row.bars[0]?.bar.id ?? ''}
            row={row}
            columns={columns}
            view={view}
            desk={desk}
            chosenSlot={name.slot}
            figure={figure}
            onKeyDown={onKeyDown}
          />
        ))}
      </div>
      <p id="study-chart-help" className="unseen">
        {words.study.chartHelp}
      </p>
    </section>
  );
}

/** Marks where the walk is. An attribute, so that a step costs no new drawing of the strip. */
function useWalkMark(box: React.RefObject<HTMLElement | null>): void {
  useEffect(
    () =>
      $walkView.subscribe((walk) => {
        for (const each of box.current?.querySelectorAll('[data-walk]') ?? []) each.removeAttribute('data-walk');
        if (walk?.isWalking !== true) return;
        box.current?.querySelector<HTMLElement>(`[data-slot="${walk.index}"]`)?.setAttribute('data-walk', '');
      }),
    [box],
  );
}

interface LineProps {
  readonly row: StripRow;
  readonly columns: number;
  readonly view: ChartView;
  readonly desk: DeskView;
  readonly chosenSlot: string;
  readonly figure: { readonly fromBar: number; readonly toBar: number } | null;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

function Line({ row, columns, view, desk, chosenSlot, figure, onKeyDown }: LineProps) {
  const numbers = row.bars.map(({ bar }) => bar.number);
  const bars = words.study.bars(numbers[0] ?? 0, numbers.at(-1) ?? 0);
  const label = row.section === null ? bars : `${words.study.section(row.section)}, ${bars}`;
  const isHere = row.bars.some(({ slots }) => slots.some(({ name }) => name.slot === chosenSlot));
  return (
    <div
      role="group"
      aria-label={label}
      className={styles.row}
      data-here={isHere || undefined}
      data-full={row.isFull || undefined}
    >
      {row.bars.map((bar, index) => (
        <div
          key={bar.bar.id}
          role="presentation"
          className={styles.bar}
          data-many={bar.slots.length > 1 || undefined}
          data-repeat-start={bar.bar.startsRepeat || undefined}
          data-repeat-end={bar.bar.endsRepeatTimes > 0 || undefined}
          style={{ width: `${100 * bar.share}%` }}
        >
          {bar.slots.map((slot) => (
            <StripSlot
              key={slot.name.slot}
              slot={slot}
              bar={bar}
              isChosen={slot.name.slot === chosenSlot}
              isInFigure={isIn(bar.place + slot.from, figure)}
              view={desk}
              onKeyDown={onKeyDown}
            />
          ))}
          <Corner
            bar={bar}
            section={index === 0 ? row.section : null}
            hasNumber={row.isFull || isNumbered(bar, columns)}
          />
          {desk === 'chord' && <KeyBegins bar={bar} view={view} />}
        </div>
      ))}
    </div>
  );
}

function isIn(at: number, figure: LineProps['figure']): boolean {
  return figure !== null && at >= figure.fromBar && at < figure.toBar;
}

/** The number of a bar, and what begins or ends with it. */
function Corner({
  bar: { bar },
  section,
  hasNumber,
}: {
  readonly bar: BarView;
  readonly section: string | null;
  readonly hasNumber: boolean;
}) {
  return (
    <span className={styles.corner} aria-hidden="true">
      {bar.endsRepeatTimes > 2 && <span>{words.study.repeat(bar.endsRepeatTimes)}</span>}
      {bar.startsEnding && <span className={styles.ending}>{bar.endings.join('. ')}.</span>}
      {section !== null && <span className={styles.sectionName}>{section}</span>}
      <span>{bar.number === 0 || !hasNumber ? '' : bar.number}</span>
    </span>
  );
}

/** The key that begins in a bar. */
function KeyBegins({ bar, view }: { readonly bar: BarView; readonly view: ChartView }) {
  const noteText = useNoteText();
  const begins = view.regions.find(({ fromBar }) => fromBar >= bar.place && fromBar < bar.place + 1);
  if (begins === undefined) return null;
  const textOf = ({ tonic, mode }: Key): string => `${noteText(tonic)}${mode === 'minor' ? 'm' : ''}`;
  return (
    <span className={styles.keyBegins} aria-hidden="true">
      {textOf(begins.key)}
    </span>
  );
}

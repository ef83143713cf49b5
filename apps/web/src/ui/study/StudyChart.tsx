import { numeralText } from '@fivespan/formats/diagram';
import { memo, useCallback, useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react';
import {
  $study,
  $walkView,
  chartView,
  chooseSlot,
  isSameSlot,
  stretchHeard,
  type BarView,
  type ChartView,
  type SlotView,
  type Study,
} from '../../features/study/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { spokenChord, spokenNumeral, spokenSigns } from '../words/spoken.ts';
import { spokenMark, useThumbText } from '../words/thumb-name.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import styles from './StudyChart.module.css';
import { ThumbTab } from './ThumbTab.tsx';
import { useRoom } from '../keyboard/use-room.ts';

/** Below this width, in letters' heights, a row has two bars. */
const WIDE_EM = 44;

interface Row {
  readonly section: string | null;
  readonly bars: readonly BarView[];
  /** Bars that would fill the row. */
  readonly width: number;
}

/** A bar with more chords than this has a row to itself where rows are narrow. */
const MOST_NARROW_SLOTS = 2;
/** A name longer than this has a line of its own above the row. */
const SHORT_NAME = 2;

function rowsOf({ sections }: ChartView, barsInRow: number): Row[] {
  return sections.flatMap(({ name, bars }) => {
    const rows: { bars: BarView[]; width: number }[] = [];
    for (const bar of bars) {
      const last = rows.at(-1);
      const width = barsInRow < 4 && bar.slots.length > MOST_NARROW_SLOTS ? 1 : barsInRow;
      if (last?.width === width && last.bars.length < width) last.bars.push(bar);
      else rows.push({ bars: [bar], width });
    }
    return rows.map((row, index): Row => ({ ...row, section: index === 0 ? name : null }));
  });
}

/** The chart with numerals, thumbs, regions and figures: where one chooses the chord to study. */
export function StudyChart({ study }: { readonly study: Study }) {
  const { lesson, choices, name } = study;
  const view = useMemo(() => chartView(lesson, choices.pins, name.pass), [lesson, choices.pins, name.pass]);
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const barsInRow = room === null || room.widthEm >= WIDE_EM ? 4 : 2;
  const rows = useMemo(() => rowsOf(view, barsInRow), [view, barsInRow]);
  const keyText = useKeyText();
  useWalkMark(box);
  const { hidden, look } = useHidden(box, rows, room);

  // the same function as long as the chart is the same: choosing a chord draws two of them anew, not all
  const onKeyDown = useCallback(
    (event: KeyboardEvent): void => {
      const now = $study.get();
      if (now === null) return;
      const slots = rows.map(({ bars }) => bars.flatMap((bar) => bar.slots));
      const to = slotAfterKey(event.key, slots, now);
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
  return (
    <section aria-labelledby="study-chart" className={styles.section}>
      <h2 id="study-chart" className="unseen">
        {words.study.chart}
      </h2>
      {view.forms.length > 0 && (
        <p className={styles.forms}>
          {view.forms.map(({ kind, key }) => words.study.form(words.study.figure(kind), keyText(key))).join(', ')}
        </p>
      )}
      <div className={styles.window}>
        <div
          ref={box}
          className={styles.chart}
          onScroll={look}
          role="listbox"
          tabIndex={-1}
          aria-labelledby="study-chart"
          aria-describedby="study-chart-help"
          aria-keyshortcuts={HEAR_KEY}
        >
          {rows.map((row) => (
            <ChartRow key={row.bars[0]?.bar.id ?? ''} row={row} view={view} study={study} onKeyDown={onKeyDown} />
          ))}
        </div>
        {hidden.above && (
          <span className={styles.hidden} data-edge="above" aria-hidden="true">
            ↑ {words.study.moreAbove}
          </span>
        )}
        {hidden.below && (
          <span className={styles.hidden} data-edge="below" aria-hidden="true">
            ↓ {words.study.moreBelow}
          </span>
        )}
      </div>
      <p id="study-chart-help" className={styles.help}>
        {words.study.chartHelp}
      </p>
    </section>
  );
}

/** Where the chart goes on beyond what is seen of it. */
interface Hidden {
  readonly above: boolean;
  readonly below: boolean;
}

/** A little more than rounding. */
const HIDDEN_FROM_PX = 8;

/** Whether there is more of the chart than is seen: told beside it, for scroll bars hide. `look` again after scrolling. */
function useHidden(box: React.RefObject<HTMLElement | null>, ...changes: readonly unknown[]) {
  const [hidden, setHidden] = useState<Hidden>({ above: false, below: false });
  const look = useCallback((): void => {
    const chart = box.current;
    if (chart === null) return;
    const above = chart.scrollTop > HIDDEN_FROM_PX;
    const below = chart.scrollHeight - chart.scrollTop - chart.clientHeight > HIDDEN_FROM_PX;
    setHidden((now) => (now.above === above && now.below === below ? now : { above, below }));
  }, [box]);
  // oxlint-disable-next-line react-hooks/exhaustive-deps -- whatever changes what is seen
  useEffect(look, [look, ...changes]);
  return { hidden, look };
}

/** The slot that a key leads to; undefined where it leads nowhere. */
function slotAfterKey(key: string, rows: readonly (readonly SlotView[])[], { name }: Study): SlotView | undefined {
  const all = rows.flat();
  const at = all.findIndex((each) => isSameSlot(each.name, name) || each.name.slot === name.slot);
  const row = rows.findIndex((each) => each.some((slot) => slot.name.slot === name.slot));
  const inRow = rows[row]?.findIndex((slot) => slot.name.slot === name.slot) ?? 0;
  const share = inRow / Math.max(1, rows[row]?.length ?? 1);
  const nextRow = (by: 1 | -1): SlotView | undefined => {
    const other = rows[row + by];
    return other?.[Math.min(other.length - 1, Math.round(share * other.length))];
  };
  switch (key) {
    case 'ArrowRight':
      return all[at + 1];
    case 'ArrowLeft':
      return all[at - 1];
    case 'ArrowDown':
      return nextRow(1);
    case 'ArrowUp':
      return nextRow(-1);
    case 'Home':
      return all[0];
    case 'End':
      return all.at(-1);
    default:
      return undefined;
  }
}

/** Marks where the walk is. An attribute, so that a step costs no new drawing of the chart. */
function useWalkMark(box: React.RefObject<HTMLElement | null>): void {
  useEffect(
    () =>
      $walkView.subscribe((walk) => {
        for (const each of box.current?.querySelectorAll('[data-walk]') ?? []) each.removeAttribute('data-walk');
        if (walk?.isWalking !== true) return;
        const slot = box.current?.querySelector<HTMLElement>(`[data-slot="${walk.index}"]`) ?? null;
        slot?.setAttribute('data-walk', '');
        bringIntoView(box.current, slot?.closest<HTMLElement>('[role="group"]') ?? null);
      }),
    [box],
  );
}

/** Scrolls the chart, not the page, so that a row of it is seen. */
function bringIntoView(chart: HTMLElement | null, row: HTMLElement | null): void {
  if (chart === null || row === null) return;
  const top = row.offsetTop;
  const bottom = top + row.offsetHeight;
  if (top < chart.scrollTop) chart.scrollTop = top;
  else if (bottom > chart.scrollTop + chart.clientHeight) chart.scrollTop = bottom - chart.clientHeight;
}

function percent(bars: number, barsInRow: number): string {
  return `${(bars * 100) / barsInRow}%`;
}

interface Line {
  readonly text: string;
  readonly from: number;
  readonly to: number;
  readonly begins: boolean;
  readonly ends: boolean;
}

/** The parts of stretches that lie in a row, in bars from its start. */
function linesIn<Stretch extends { readonly fromBar: number; readonly toBar: number }>(
  stretches: readonly Stretch[],
  first: number,
  count: number,
  textOf: (stretch: Stretch) => string,
): Line[] {
  return stretches
    .filter(({ fromBar, toBar }) => fromBar < first + count && toBar > first)
    .map((each) => ({
      text: textOf(each),
      from: Math.max(0, each.fromBar - first),
      to: Math.min(count, each.toBar - first),
      begins: each.fromBar >= first,
      ends: each.toBar <= first + count,
    }));
}

/** Lines over one another where they would overlap. */
function inLanes(lines: readonly Line[]): Line[][] {
  const lanes: Line[][] = [];
  for (const line of lines) {
    const lane = lanes.find((each) => each.every((other) => other.to <= line.from || other.from >= line.to));
    if (lane === undefined) lanes.push([line]);
    else lane.push(line);
  }
  return lanes;
}

function Lane({ lines, barsInRow, kind }: { lines: readonly Line[]; barsInRow: number; kind: 'region' | 'figure' }) {
  return (
    <div className={styles.lane} data-kind={kind} aria-hidden="true">
      {lines.map((line) => (
        <span
          key={`${line.from} ${line.text}`}
          className={styles.line}
          data-begins={line.begins || undefined}
          data-ends={line.ends || undefined}
          style={{ left: percent(line.from, barsInRow), width: percent(line.to - line.from, barsInRow) }}
        >
          <span className={styles.lineText}>{line.text}</span>
        </span>
      ))}
    </div>
  );
}

interface RowProps {
  readonly row: Row;
  readonly view: ChartView;
  readonly study: Study;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

function ChartRow({ row, view, study, onKeyDown }: RowProps) {
  const keyText = useKeyText();
  const barsInRow = row.width;
  const first = row.bars[0]?.place ?? 0;
  const count = row.bars.length;
  const regions = linesIn(view.regions, first, count, ({ key }) => keyText(key));
  const figures = linesIn(view.figures, first, count, ({ kind }) => words.study.figure(kind));
  const numbers = row.bars.map(({ bar }) => bar.number);
  const bars = words.study.bars(numbers[0] ?? 0, numbers.at(-1) ?? 0);
  const label = row.section === null ? bars : `${words.study.section(row.section)}, ${bars}`;
  return (
    <div
      role="group"
      aria-label={label}
      className={styles.row}
      data-endings={row.bars.some(({ bar }) => bar.startsEnding) || undefined}
    >
      {row.section !== null && (
        <span
          className={styles.sectionName}
          data-long={[...row.section].length > SHORT_NAME || undefined}
          aria-hidden="true"
        >
          {row.section}
        </span>
      )}
      <Lane lines={regions} barsInRow={barsInRow} kind="region" />
      <div className={styles.bars} role="presentation">
        {row.bars.map((bar) => (
          <div
            key={bar.bar.id}
            role="presentation"
            className={styles.bar}
            data-repeat-start={bar.bar.startsRepeat || undefined}
            data-repeat-end={bar.bar.endsRepeatTimes > 0 || undefined}
            style={{ width: percent(1, barsInRow) }}
          >
            {bar.bar.startsEnding && (
              <span className={styles.ending} aria-hidden="true">
                {bar.bar.endings.join('. ')}.
              </span>
            )}
            {bar.slots.map((slot) => (
              <SlotOption
                key={slot.name.slot}
                slot={slot}
                bar={bar}
                isChosen={slot.name.slot === study.name.slot}
                onKeyDown={onKeyDown}
              />
            ))}
            {bar.bar.endsRepeatTimes > 2 && (
              <span className={styles.times} aria-hidden="true">
                {words.study.repeat(bar.bar.endsRepeatTimes)}
              </span>
            )}
          </div>
        ))}
      </div>
      {inLanes(figures).map((lane, index) => (
        <Lane key={index} lines={lane} barsInRow={barsInRow} kind="figure" />
      ))}
    </div>
  );
}

interface SlotProps {
  readonly slot: SlotView;
  readonly bar: BarView;
  readonly isChosen: boolean;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

const SlotOption = memo(function SlotOption({ slot, bar, isChosen, onKeyDown }: SlotProps) {
  const thumbText = useThumbText();
  const keyText = useKeyText();
  const said = [
    words.study.bar(bar.bar.number),
    ...(bar.slots.length > 1 ? [words.study.beat(slot.beat)] : []),
    spokenChord(slot.chord),
    ...(slot.numeral === '' ? [] : [words.study.inKey(spokenNumeral(slot.numeral), spokenSigns(keyText(slot.key)))]),
    ...(slot.thumbs.length === 0 ? [] : [words.study.thumbs(slot.thumbs.map(({ name }) => thumbText.said(name, '')))]),
    // once: a family is of one shape
    ...[spokenMark(slot.thumbs[0]?.mark ?? '')].filter((each) => each !== ''),
    ...(slot.figures.length === 0
      ? []
      : [words.study.partOf(slot.figures.map(({ kind }) => words.study.figure(kind)))]),
    ...(bar.passes > 1 ? [words.study.playedTimes(bar.passes)] : []),
    ...(slot.isPinned ? [words.study.hasPin] : []),
  ].join(', ');
  return (
    <div
      role="option"
      className={styles.slot}
      aria-selected={isChosen}
      aria-label={said}
      tabIndex={isChosen ? 0 : -1}
      data-slot={slot.index}
      data-outside={!slot.isInside || undefined}
      data-tight={slot.share < 0.4 || undefined}
      style={{ flexGrow: slot.share }}
      onClick={() => chooseSlot(slot.name)}
      onKeyDown={onKeyDown}
    >
      <span className={styles.symbol}>
        <ChordName chord={slot.chord} />
        {slot.isPinned && <PinSign />}
      </span>
      <span className={styles.numeral}>{slot.numeral === '' ? '\u00A0' : numeralText(slot.numeral)}</span>
      <span className={styles.tabs}>
        {slot.thumbs.map((each) => (
          <ThumbTab key={each.name} name={thumbText.printed(each.name, each.mark)} isHere={each.isHere} />
        ))}
      </span>
    </div>
  );
});

/** The sign of something pinned: a pin seen from the side. */
export function PinSign() {
  return (
    <svg className={styles.pin} viewBox="0 0 10 14" width="9" height="13" aria-hidden="true">
      <circle cx="5" cy="4" r="3" fill="currentColor" />
      <path d="M5 7v6" stroke="currentColor" strokeWidth="1.4" />
    </svg>
  );
}

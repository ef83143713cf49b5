/**
 * What the music engine makes of a chart, as text that a musician can review: one block a played bar. What would be too long
 * to read is in the hash: every written and played note of the lesson and of its usual programme with all four players.
 */
import { createHash } from 'node:crypto';
import {
  DEFAULT_CHOICES,
  ENGINE_VERSION,
  formatKey,
  formatNoteName,
  formatPitch,
  makeLesson,
  playProgramme,
  readChart,
  TRIO_PLAYERS,
  usualProgramme,
  type Chart,
  type Choices,
  type Lesson,
  type PlayedProgramme,
} from '@fivespan/core';

export const LEVELS = [1, 2, 3, 4] as const;

/** The first bars of the programme stand in the text note by note; all of it is in the hash. */
const READ_SECONDS = 8;

/** What is made twice differently: two choruses on, so that the second differs from the first. */
const CHORUSES = 2;

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new TypeError(`the chart must be right: ${JSON.stringify(read.issues)}`);
  return read.value;
}

/** The special chart's pin: one pass of the first repeated bar, and not the other. */
function choicesAt(level: Choices['level'], chart: Chart): Choices {
  const first = chart.sections[0]?.bars.find((bar) => bar.startsRepeat)?.slots[0];
  const plain = { ...DEFAULT_CHOICES, level };
  if (first === undefined || chart.title !== 'Every Corner') return plain;
  const slot = makeLesson(chart, plain).plan.slots.find(({ analysed }) => analysed.played.slot.id === first.id);
  const second = slot?.analysed.chordScales[1];
  if (second === undefined) throw new TypeError('the pinned slot must have two chord-scales');
  const pin = { slot: first.id, pass: 2, chordScale: second.id };
  return { ...plain, pins: { ...plain.pins, plan: { ...plain.pins.plan, chordScales: [pin] } } };
}

const hashOf = (value: unknown): string =>
  createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 32);

/** What is written down and what is played, every number of it; no words, which may be bettered without new music. */
function musicOf({ analysis, plan, score, performance }: Lesson, played: PlayedProgramme): unknown {
  return [
    analysis.slots.map(({ reading, chordScales }) => [
      reading.numeral,
      reading.role,
      chordScales.map(({ id, notes, chordTones, tensions, avoid }) => [id, notes, chordTones, tensions, avoid]),
    ]),
    analysis.cadences.map(({ kind, key, slots }) => [kind, formatKey(key), slots]),
    plan.slots.map(({ chordScale, thumbMidi, position }) => [chordScale?.id, thumbMidi, position?.shape.id]),
    score.chords,
    score.thumbs,
    score.staves,
    score.phrases,
    performance,
    played.players,
    played.events,
    played.segments,
  ];
}

/** Beats into the bar, at most three places: `1`, `2.5`, `3.667`. */
const beatIn = (ticks: number, unit: number): string => String(Number((1 + (ticks * unit) / 3840).toFixed(3)));

function barsOf({ analysis, plan, score }: Lesson): string[] {
  return score.bars.flatMap((bar) => {
    const isHere = ({ startTicks }: { readonly startTicks: number }): boolean =>
      startTicks >= bar.startTicks && startTicks < bar.startTicks + bar.durationTicks;
    const slots = plan.slots.filter(({ analysed }) => isHere(analysed.played));
    const head = slots.map(({ analysed, chordScale, position, thumbMidi }) => {
      const name = analysed.chord?.symbol ?? 'N.C.';
      const where = position === null ? 'no position' : `${position.shape.id} thumb ${thumbMidi}`;
      return `${name} ${analysed.reading.numeral} (${analysed.reading.role}), ${chordScale?.id ?? '–'}, ${where}`;
    });
    const staves = score.staves.map(({ role, notes }) => {
      const said = notes.filter(isHere).map(({ pitch, startTicks, durationTicks, finger }) => {
        const fingerText = finger === null ? '' : `/${finger}`;
        const lasts = durationTicks / 960;
        return `${beatIn(startTicks - bar.startTicks, bar.meter.unit)}:${formatPitch(pitch)}${fingerText}~${Number(lasts.toFixed(3))}`;
      });
      return `  ${role}: ${said.join(' ')}`;
    });
    const section = bar.section === null ? '' : ` [${bar.section}]`;
    const key = analysis.key === bar.key ? '' : ` ${formatKey(bar.key)}`;
    return [
      `bar ${bar.number}${section}${key} | ${head.join(' | ')}`,
      ...staves.filter((line) => !line.endsWith(': ')),
    ];
  });
}

/** The programme's first seconds: milliseconds, MIDI number, velocity, milliseconds held. */
function playedOf({ players, events, segments }: PlayedProgramme): string[] {
  return [
    ...segments.map(
      ({ kind, startSeconds, tempoBpm, time }) =>
        `${kind} ${time} at ${startSeconds.toFixed(3)} s, ${tempoBpm} a minute`,
    ),
    ...players.map(({ name, instrument, pan, level }, player) => {
      const notes = events
        .filter((event) => event.player === player && event.startSeconds < READ_SECONDS)
        .map(
          ({ startSeconds, durationSeconds, midi, velocity }) =>
            `${(startSeconds * 1000).toFixed(0)}:${midi}v${velocity}~${(durationSeconds * 1000).toFixed(0)}`,
        );
      return `${name} (${instrument}, pan ${pan}, level ${level}): ${notes.join(' ')}`;
    }),
  ];
}

const wrapped = (line: string): string => line.replace(/(?=.{119})(.{1,116}) /gu, '$1\n    ');

/** The digest of a chart at a level, ending in a line break. */
export function digestOf(chartText: string, level: Choices['level']): string {
  const chart = chartOf(chartText);
  const choices = choicesAt(level, chart);
  const lesson = makeLesson(chart, choices);
  const usual = usualProgramme(chart, lesson.analysis.key);
  const [first] = usual.choruses;
  if (first === undefined) throw new TypeError('a usual programme has choruses');
  const programme = {
    ...usual,
    choruses: Array.from({ length: CHORUSES }, () => ({ ...first, players: TRIO_PLAYERS })),
  };
  const played = playProgramme(chart, choices, programme);
  if (played === undefined) throw new TypeError('nobody cancelled it');
  const { analysis, plan } = lesson;
  const lines = [
    `engine ${ENGINE_VERSION}`,
    `hash ${hashOf(musicOf(lesson, played))}`,
    `${chart.title}, ${formatKey(analysis.key)}, level ${level}, hand travels ${plan.totalTravelMm.toFixed(1)} mm`,
    ...analysis.regions.map(({ key, fromSlot, toSlot }) => `region ${formatKey(key)} ${fromSlot}–${toSlot}`),
    ...analysis.cadences.map(({ kind, key, slots }) => `figure ${kind} in ${formatKey(key)}: ${slots.join(' ')}`),
    `thumbs ${lesson.score.thumbs.map(({ thumb }) => formatNoteName(thumb)).join(' ')}`,
    ...barsOf(lesson),
    ...playedOf(played),
  ];
  return `${lines.map(wrapped).join('\n')}\n`;
}

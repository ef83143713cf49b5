import type { Card, NoteName } from '@fivespan/core';
import { degreeLabel, noteText } from '../diagram/index.ts';
import type { FilmColours } from './colours.ts';
import { fittingSize, textLine, wrapped } from './film-text.ts';
import type { Box, FilmLayout } from './layout.ts';
import type { FilmWords } from './words.ts';

/** Where a card stands. */
export function cardBox(card: Card, layout: FilmLayout): Box {
  return card.kind === 'scale' || card.kind === 'hand' ? layout.card : layout.title;
}

/** Large words where there is no music. Titles may be long: they take up to three lines. */
export function drawCard(card: Card, layout: FilmLayout, colours: FilmColours, words: FilmWords): string {
  const box = cardBox(card, layout);
  const lines = (text: string, size: number, top: number, role: string): { svg: string; bottom: number } => {
    const set = wrapped(text, size, box.width, 3);
    const svg = set.lines
      .map((line, index) =>
        textLine(box.x, top + set.size * (index + 0.9), line, {
          size: set.size,
          fill: colours.ink,
          face: 'serif',
          isBold: true,
          role,
        }),
      )
      .join('');
    return { svg, bottom: top + set.size * 1.08 * set.lines.length };
  };
  const below = (text: string, top: number, size: number): string => {
    const set = wrapped(text, size, box.width, 2);
    return set.lines
      .map((line, index) =>
        textLine(box.x, top + set.size * (1.1 + index * 1.25), line, {
          size: set.size,
          fill: colours.soft,
          face: 'serif',
          role: 'card-more',
        }),
      )
      .join('');
  };
  switch (card.kind) {
    case 'title': {
      const title = lines(card.title, 92, box.y, 'card-title');
      return title.svg + below(`${words.key(card.key)} · ${words.tempo(card.tempoBpm)}`, title.bottom, 46);
    }
    case 'key': {
      return lines(words.key(card.key), 120, box.y, 'card-title').svg;
    }
    case 'end': {
      const end = lines(words.end, 84, box.y, 'card-title');
      return end.svg + below(words.care, end.bottom + 12, 36);
    }
    case 'scale': {
      const { chordScale, named } = card;
      return notesCard(words.scale(chordScale), chordScale.notes.slice(0, named), card, box, colours);
    }
    case 'hand': {
      const { lesson, hand, named } = card;
      return notesCard(words.hand(lesson, hand), hand.position.notes.slice(0, named), card, box, colours);
    }
  }
}

/** A name, and notes below it with their degrees of the chord: chord tones bold, tensions slanted, what rubs with its ✕. */
function notesCard(
  name: string,
  notes: readonly NoteName[],
  { chord, chordScale }: Extract<Card, { kind: 'scale' | 'hand' }>,
  box: Box,
  colours: FilmColours,
): string {
  const size = fittingSize(name, 58, box.width);
  const pitch = box.width / Math.max(7, chordScale.notes.length);
  const rows = notes.map((note, index) => {
    const x = box.x + pitch * index;
    const label = degreeLabel(chord, chordScale, note);
    const own = {
      face: 'serif',
      role: 'scale-note',
      size: fittingSize(noteText(note), 68, pitch - 8),
      fill: label.kind === 'rubs' ? colours.rubs : colours.ink,
      isBold: label.kind !== 'tension',
    } as const;
    const degree = label.kind === 'rubs' ? `✕ ${label.text}` : label.text;
    return (
      textLine(x, box.y + 190, noteText(note), own) +
      textLine(x, box.y + 246, degree, {
        ...own,
        size: fittingSize(degree, 36, pitch - 8),
        isItalic: label.kind === 'tension',
        role: 'scale-degree',
      })
    );
  });
  return (
    textLine(box.x, box.y + 66, name, { size, fill: colours.ink, face: 'serif', role: 'card-title' }) + rows.join('')
  );
}

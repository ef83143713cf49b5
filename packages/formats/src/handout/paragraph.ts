import type { Canvas, Run, TextRun } from './canvas.ts';

/** One line of set text. */
export type Line = readonly Run[];

/** Splits a run into words that keep their space behind them; a no-break space is no place to break. */
function wordsOf(run: Run): Run[] {
  if (run.kind === 'beat') return [run];
  return (run.text.match(/[^ ]+ *| +/gu) ?? []).map((text) => ({ ...run, text }));
}

/** Breaks a word that is wider than a line. */
function broken(canvas: Canvas, word: TextRun, widthPt: number): TextRun[] {
  const pieces: TextRun[] = [];
  let rest = '';
  for (const character of word.text) {
    if (rest !== '' && canvas.widthOf({ ...word, text: rest + character }) > widthPt) {
      pieces.push({ ...word, text: rest });
      rest = '';
    }
    rest += character;
  }
  pieces.push({ ...word, text: rest });
  return pieces;
}

function withoutEndSpace(run: Run): Run {
  return run.kind === 'text' ? { ...run, text: run.text.trimEnd() } : run;
}

function isGlued(run: Run | undefined): boolean {
  return run !== undefined && (run.kind === 'beat' || !run.text.endsWith(' '));
}

/**
 * Breaks runs into lines no wider than a width. Runs without a space between them stay together; a word wider than a line
 * is broken anywhere.
 * @param mostLines further lines are cut, the last one ends with an ellipsis.
 */
export function breakLines(canvas: Canvas, runs: readonly Run[], widthPt: number, mostLines = Infinity): Line[] {
  // a chunk is what must not be broken: words glued to one another
  const chunks: Run[][] = [];
  for (const word of runs.flatMap(wordsOf)) {
    if (isGlued(chunks.at(-1)?.at(-1))) chunks.at(-1)!.push(word);
    else chunks.push([word]);
  }
  const lines: Run[][] = [];
  let line: Run[] = [];
  let used = 0;
  const close = (): void => {
    if (line.length > 0) lines.push([...line.slice(0, -1), withoutEndSpace(line.at(-1) as Run)]);
    line = [];
    used = 0;
  };
  for (const chunk of chunks) {
    const bare = canvas.widthOfAll([...chunk.slice(0, -1), withoutEndSpace(chunk.at(-1) as Run)]);
    const full = canvas.widthOfAll(chunk);
    if (used + bare <= widthPt + 0.01) {
      line.push(...chunk);
      used += full;
      continue;
    }
    close();
    if (bare <= widthPt + 0.01) {
      line.push(...chunk);
      used = full;
      continue;
    }
    for (const word of chunk.flatMap((each): Run[] =>
      each.kind === 'text' ? broken(canvas, each, widthPt) : [each],
    )) {
      const width = canvas.widthOf(word);
      if (used > 0 && used + width > widthPt) close();
      line.push(word);
      used += width;
    }
  }
  close();
  if (lines.length <= mostLines) return lines;
  const kept = lines.slice(0, mostLines);
  kept[mostLines - 1] = [...ellipsis(canvas, kept[mostLines - 1] ?? [], widthPt)];
  return kept;
}

function ellipsis(canvas: Canvas, line: Line, widthPt: number): Line {
  const last = line.findLast((run) => run.kind === 'text');
  if (last === undefined) return line;
  const before = line.slice(0, line.indexOf(last));
  let text = last.text.trimEnd();
  while (text !== '' && canvas.widthOfAll([...before, { ...last, text: `${text}…` }]) > widthPt) {
    text = [...text].slice(0, -1).join('');
  }
  return [...before, { ...last, text: `${text}…` }];
}

/** Cuts text to one line. */
export function oneLine(canvas: Canvas, runs: readonly Run[], widthPt: number): Line {
  return breakLines(canvas, runs, widthPt, 1)[0] ?? [];
}

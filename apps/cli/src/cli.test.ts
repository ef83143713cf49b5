import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COMMANDS } from './commands.ts';

const bin = join(import.meta.dirname, '../bin/fivespan.mjs');
const demo = join(import.meta.dirname, '../../../examples/DEMO.chart');
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-cli-'));
  run('--help'); // builds once, so that no test's time depends on it
});
afterAll(() => rmSync(folder, { recursive: true }));

function run(...words: string[]) {
  return runWith('', ...words);
}
function runWith(input: string, ...words: string[]) {
  return spawnSync(process.execPath, [bin, ...words], { cwd: folder, encoding: 'utf8', input });
}
const filesBelow = (path: string): string[] =>
  readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((name) => statSync(join(path, name)).isFile())
    .sort();

describe('usage', () => {
  test('help lists every command and exits 0', () => {
    const { status, stdout } = run('--help');
    expect(status).toBe(0);
    for (const { name } of COMMANDS) expect(stdout).toContain(name);
  });
  test.each(COMMANDS.map(({ name }) => name))('help of %s has an example and names every option', (name) => {
    const { status, stdout } = run(name, '--help');
    expect(status).toBe(0);
    expect(stdout).toContain('Example: fivespan ');
    const command = COMMANDS.find((each) => each.name === name);
    for (const option of Object.keys(command?.options ?? {})) expect(stdout).toContain(`--${option}`);
  });
  test.each([
    [[]],
    [['sing']],
    [['bass']],
    [['bass', 'C7 |', '--loud']],
    [['chorus', 'C7 |', '--seed', 'x']],
    [['positions', 'C7 |', '--hand', 'huge']],
    [['lesson', 'C7 |', '--keys', 'H']],
    [['lesson', 'C7 |', '--paper', 'a5']],
    [['route', 'C7 |', '--curve', '0,4']],
    [['chorus', 'C7 |', '--motive', '1 2 4 : 8 8']],
    [['shapes', 'C7 |', '--own', 'D F A C']],
    [['shapes', 'C7 |', '--own', 'D F A C H']],
  ])('%j is a wrong call: exit 2, told on standard error', (words) => {
    const { status, stdout, stderr } = run(...words);
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toContain('fivespan');
  });
});

describe("a player's own shape and curve", () => {
  test('D F A C E gives every note of C major, from D and A', () => {
    const { status, stdout } = run('shapes', 'key: C major\n| Dm7 | G7 | Cmaj7 |', '--own', 'D F A C E', '--json');
    expect(status).toBe(0);
    const { own, chords } = JSON.parse(stdout) as { own: { steps: number[] }; chords: Record<string, unknown>[] };
    expect(own.steps).toEqual([0, 2, 3, 7, 10]);
    // by hand: on the white keys D F A C E and A C E G B only (E G B D would need F sharp); together all seven
    expect(chords.map(({ symbol, verdict }) => `${symbol as string} ${verdict as string}`)).toEqual([
      'Dm7 covers',
      'G7 covers',
      'Cmaj7 covers',
    ]);
    expect(chords[0]).toMatchObject({ thumbs: [{ thumb: 'D' }, { thumb: 'A' }] });
  });

  test('a curve takes the route outside where it rises, and is kept in the lesson', () => {
    const changes = 'key: C major\n| Dm7 | G7 | Cmaj7 | Am7 | Dm7 | G7 | Cmaj7 | Cmaj7 |';
    const inside = (...words: string[]) => {
      const report = JSON.parse(run('route', changes, '--json', ...words).stdout) as { steps: { inside: boolean }[] };
      return report.steps.map((step) => step.inside);
    };
    expect(inside().every(Boolean)).toBe(true);
    expect(inside('--curve', '3,0')[1]).toBe(false);
    expect(inside('--curve', '3,0').slice(4).every(Boolean)).toBe(true);
  });

  test('a chorus is made of the motive that is given', () => {
    const changes = 'key: C major\n| Dm7 | G7 | Cmaj7 | Am7 |';
    const plain = run('chorus', changes);
    const given = run('chorus', changes, '--motive', '1 2 4 3 : 8 8 4 4');
    expect(given.stdout).toContain('Made of the motive 1 2 4 3 : 8 8 4 4.');
    expect(given.stdout).not.toContain(plain.stdout.split('\n').find((row) => row.startsWith('1 ')) ?? '');
  });
});

describe('inputs', () => {
  test('changes, a file and standard input give the same notes', () => {
    const changes = '| Fm7 | Bb7 | Ebmaj7 |';
    writeFileSync(join(folder, 'three.chart'), changes);
    const outputs = [
      run('bass', changes, '--json'),
      run('bass', 'three.chart', '--json'),
      runWith(changes, 'bass', '-', '--json'),
    ];
    expect(outputs.map((output) => output.status)).toEqual([0, 0, 0]);
    expect(new Set(outputs.map((output) => output.stdout)).size).toBe(1);
  });
  test('one line an input, in order; a faulty one in its place; the rest still print; exit 1', () => {
    const { status, stdout } = run('analyse', 'Fm7 | Bb7', 'Fm7 | B?7', 'nowhere.chart', 'Ebmaj7 |', '--json');
    expect(status).toBe(1);
    const lines = stdout
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(lines.map((line) => Object.keys(line).slice(0, 3))).toEqual([
      ['version', 'chart', 'regions'],
      ['version', 'file', 'issues'],
      ['version', 'file', 'issues'],
      ['version', 'chart', 'regions'],
    ]);
    expect(lines[1]).toMatchObject({ file: 'Fm7 | B?7', issues: [{ line: 1, column: 8, bar: 2 }] });
    expect(lines[2]).toMatchObject({ file: 'nowhere.chart', issues: [{ code: 'file.missing' }] });
  });
  test('wrong options are told in our words, before anything is read', () => {
    const told = (...words: string[]) => run('lesson', 'nowhere.chart', ...words).stderr.split('\n')[0];
    expect(told('--colour', '3')).toBe(
      'fivespan lesson: --colour is none of its options: --keys --out --seed --level --curve --motive --hand --play-page --one-page --for --paper --json',
    );
    expect(told('--seed')).toBe('fivespan lesson: --seed needs a value after it');
    expect(told('--json=4')).toBe('fivespan lesson: --json takes no value');
  });
  test('five mistakes are listed, all five with line and column, and nothing is written', () => {
    const chart = ['key: H major', 'tempo: fast', 'A:', '| Fm7 | Bb7 Eb7 Ab7 |', '| Xm7 | % Cm7 |', ''].join('\n');
    writeFileSync(join(folder, 'five.chart'), chart);
    mkdirSync(join(folder, 'five-out'));
    const { status, stderr, stdout } = run('lesson', 'five.chart', '--out', 'five-out');
    expect(status).toBe(1);
    expect(stdout).toBe('');
    const places = [...stderr.matchAll(/^five\.chart:(\d+):\d+/gmu)].map((match) => Number(match[1]));
    expect(places).toEqual([1, 2, 4, 5, 5]);
    expect(readdirSync(join(folder, 'five-out'))).toEqual([]);
  });
});

describe('fingering', () => {
  test('with --ways the next-best fingerings are told, dearer one by one, each of its own', () => {
    const note = (step: string, octave: number) =>
      `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration></note>`;
    const scale = [...'CDEFGAB'].map((step) => note(step, 4)).join('') + note('C', 5);
    writeFileSync(
      join(folder, 'scale.musicxml'),
      `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Keys</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>8</beats><beat-type>4</beat-type></time></attributes>${scale}</measure></part></score-partwise>`,
    );
    const fingering = (...words: string[]) => run('fingering', 'scale.musicxml', '--hand-side', 'right', ...words);
    const report = JSON.parse(fingering('--ways', '3', '--json').stdout) as {
      points: number;
      notes: { finger: number }[];
      others: { points: number; fingers: number[] }[];
    };
    const best = report.notes.map(({ finger }) => finger);
    expect(best).toEqual([1, 2, 3, 1, 2, 3, 4, 5]); // every scale book's
    const points = [report.points, ...report.others.map((each) => each.points)];
    expect(points).toHaveLength(3);
    expect(points).toEqual(points.toSorted((a, b) => a - b));
    expect(new Set([best, ...report.others.map(({ fingers }) => fingers)].map(String)).size).toBe(3);
    expect(fingering('--ways', '3').stdout).toContain('Way 3 costs');
    const wrong = fingering('--ways', '11');
    expect(wrong.status).toBe(2);
    expect(wrong.stderr).toContain("--ways takes a number from 1 to 10, not '11'");
  });
});

describe('lesson', () => {
  test('writes every file in a folder for each key; the same again, and again from its lesson.json', () => {
    const first = run('lesson', demo, '--keys', 'Eb,B', '--out', 'first');
    expect(first.stderr).not.toContain('Error');
    expect(first.status).toBe(0);
    const files = filesBelow(join(folder, 'first'));
    expect(files).toEqual([
      ...['B-major', 'E-flat-major'].flatMap((key) =>
        ['lesson.mid', 'lesson.musicxml', 'play.pdf', 'study.pdf'].map((name) => join(key, name)),
      ),
      'lesson.json',
    ]);
    for (const file of files) expect(first.stdout).toContain(join('first', file));
    expect(run('lesson', 'first/lesson.json', '--out', 'second').status).toBe(0);
    expect(filesBelow(join(folder, 'second'))).toEqual(files);
    for (const file of files) {
      const [before, after] = ['first', 'second'].map((out) => readFileSync(join(folder, out, file)));
      expect(before?.equals(after as Buffer), file).toBe(true);
    }
  });
  test('parts for the band and one page lie beside the lesson where they are asked for; a reader nobody knows is told', () => {
    const { status, stdout } = run(
      'lesson',
      '| Fm7 | B7 | Emaj7 |',
      '--keys',
      'E',
      '--for',
      'B♭,eb,bass-clef',
      '--one-page',
      '--out',
      'band',
    );
    expect(status).toBe(0);
    const parts = ['part-B-flat', 'part-E-flat', 'part-bass-clef'].flatMap((name) => [
      `${name}.musicxml`,
      `${name}.pdf`,
    ]);
    expect(readdirSync(join(folder, 'band/E-major')).filter((name) => name.startsWith('part-'))).toEqual(parts);
    expect(readFileSync(join(folder, 'band/E-major/sheet.pdf'), 'latin1').slice(0, 5)).toBe('%PDF-');
    for (const part of [...parts, 'sheet.pdf']) expect(stdout).toContain(part);
    const roots = (name: string) =>
      [
        ...readFileSync(join(folder, 'band/E-major', name), 'utf8').matchAll(
          /<root-step>(.)<.*\s*(?:<root-alter>(.*)<)?/gu,
        ),
      ]
        .map(([, step, alter]) => `${step}${alter ?? ''}`)
        .join(' ');
    expect(roots('part-B-flat.musicxml')).toBe('G C1 F1');
    expect(roots('part-bass-clef.musicxml')).toBe('F B E');
    const wrong = run('lesson', '| Fm7 |', '--for', 'Bb,tuba', '--out', 'wrong');
    expect(wrong.status).toBe(2);
    expect(wrong.stderr).toContain("or bass-clef, several with commas such as Bb,Eb, not 'tuba'");
  });
  test('a folder that cannot be written is told in words', () => {
    writeFileSync(join(folder, 'taken'), '');
    const { status, stderr } = run('lesson', demo, '--out', 'taken/below');
    expect(status).toBe(1);
    expect(stderr).toContain("cannot write to 'taken/below'");
  });
});

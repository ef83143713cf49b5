/** docs/json.md against what is printed: no field without its words, no words without their field. Source: docs/json.md itself. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  DEFAULT_CHOICES,
  ENGINE_VERSION,
  findRoute,
  findShape,
  makeDrill,
  makeLesson,
  readChart,
  reportAnalysis,
  reportBass,
  reportChorus,
  reportDrill,
  reportOwnShape,
  reportPositions,
  reportRoute,
  reportShapes,
  reportVoicings,
  routeOptionsOf,
  searchShapes,
  shapeDemands,
  writeLessonDocument,
} from '@fivespan/core';

const docs = readFileSync(join(import.meta.dirname, '../../../docs/json.md'), 'utf8');
/** The text under a heading. */
const sectionOf = (name: string): string => docs.split(/^## /mu).find((each) => each.startsWith(`${name}\n`)) ?? '';
/** The names in a section's shapes: what stands in its blocks of code. */
const shapeOf = (name: string): Set<string> =>
  new Set(
    [...sectionOf(name).matchAll(/^```\n(.*?)^```/gmsu)].flatMap(([, block]) => block?.match(/[a-zA-Z]+/gu) ?? []),
  );

/** What stands in a shape and is no field. */
const NO_FIELD = new Set(['null']);
/** Objects whose fields are named elsewhere: by the reason, by the model. */
const OPEN = new Set(['args', 'pointsByRule']);

function fieldsOf(value: unknown, found = new Set<string>()): Set<string> {
  if (Array.isArray(value)) for (const each of value) fieldsOf(each, found);
  else if (typeof value === 'object' && value !== null) {
    for (const [name, inner] of Object.entries(value)) {
      found.add(name);
      if (!OPEN.has(name)) fieldsOf(inner, found);
    }
  }
  return found;
}

const TEXT = 'title: Own\nkey: F major\ntempo: 120\n| Gm7 | C7 | Fmaj7 | D7(b9) |\n| Gm7 | C7alt | Fmaj7 | % |\n';

function printed(): Readonly<Record<string, readonly unknown[]>> {
  const chart = readChart(TEXT);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  const choices = { ...DEFAULT_CHOICES, level: 4, voicings: 'upper structures' } as const;
  const lesson = makeLesson(chart.value, choices);
  const { analysis } = lesson;
  const drill = makeDrill(chart.value, choices, {
    kind: 'guide-tones',
    bars: { from: 1, to: 4 },
    keys: [],
    tempi: null,
  });
  if (!drill.ok) throw new TypeError(JSON.stringify(drill.issues));
  const route = findRoute(analysis, routeOptionsOf(analysis, choices, choices.pins), 'chord');
  const search = searchShapes(shapeDemands(analysis), { hand: 'medium', keys: 'all', limit: 1 });
  return {
    analyse: [reportAnalysis(analysis)],
    positions: [reportPositions(lesson)],
    bass: [reportBass(lesson)],
    voicings: [reportVoicings(lesson)],
    chorus: [reportChorus(lesson)],
    drill: [reportDrill(drill.value)],
    shapes: [
      reportShapes(analysis, search),
      reportOwnShape(analysis, findShape('minor-pentatonic')!, 'medium', choices.pins.plan),
    ],
    route: [reportRoute(analysis, route, 'medium')],
  };
}

let reports: ReturnType<typeof printed>;
beforeAll(() => {
  reports = printed();
});

describe.each(['analyse', 'positions', 'bass', 'voicings', 'chorus', 'drill', 'shapes', 'route'])('%s', (command) => {
  test('prints what docs/json.md says, and nothing else', () => {
    const fields = fieldsOf(reports[command]);
    const shape = shapeOf(command);
    // a part of a shape may be told within the text, in braces
    const within = [...sectionOf(command).matchAll(/`(\{[^`]*\})`/gu)].flatMap(
      ([, part]) => part?.match(/[a-zA-Z]+/gu) ?? [],
    );
    const told = new Set([...shape, ...within]);
    if (command === 'positions') for (const each of shapeOf('analyse')) told.add(each);
    expect(fields.size).toBeGreaterThan(5);
    expect([...fields].filter((each) => !told.has(each))).toEqual([]);
    expect([...shape].filter((each) => !fields.has(each) && !NO_FIELD.has(each))).toEqual([]);
  });
});

test("the lesson's document has what docs/json.md says, and nothing else", () => {
  const document: unknown = JSON.parse(
    writeLessonDocument({ chartText: TEXT, choices: DEFAULT_CHOICES, engine: ENGINE_VERSION }),
  );
  const section = sectionOf('lesson');
  const told = new Set(section.match(/[a-zA-Z]+/gu) ?? []);
  expect([...fieldsOf(document)].filter((each) => !told.has(each))).toEqual([]);
  const [, inside] = /choices: \{ ([^}]*) \}/u.exec(section) ?? [];
  const { choices } = document as { choices: object };
  expect(new Set(inside?.split(/,\s*/u))).toEqual(new Set(Object.keys(choices)));
});

import type { Records, SetAsideRecord } from './records.ts';

/** Records that last as long as the page: for browsers that allow no database, so that one can work all the same. */
export function memoryRecords(): Records {
  let lessons = new Map<unknown, unknown>();
  let aside: SetAsideRecord[] = [];
  let facts = new Map<string, unknown>();
  let last: Promise<unknown> = Promise.resolve();
  return {
    lessons: async () => ({ found: [...lessons.values()], unreadable: [] }),
    lesson: async (id) => lessons.get(id),
    lessonOnDisk: async (id) => lessons.get(id),
    setAside: async () => aside,
    dropSetAside: async (number) => {
      aside = aside.filter((each) => each.number !== number);
    },
    fact: async (name) => facts.get(name),
    change: (work) => {
      // one after the other, and as a whole: work is done on copies
      const made = last.then(async () => {
        const now = { lessons: new Map(lessons), aside: [...aside], facts: new Map(facts) };
        const value = await work({
          lessons: async () => [...now.lessons.values()],
          lesson: async (id) => now.lessons.get(id),
          put: async (record) => void now.lessons.set(record.id, record),
          remove: async (key) => void now.lessons.delete(key),
          setAside: async (record) => void now.aside.push({ ...record, number: (now.aside.at(-1)?.number ?? 0) + 1 }),
          fact: async (name) => now.facts.get(name),
          putFact: async (name, value) => void now.facts.set(name, value),
        });
        ({ lessons, aside, facts } = now);
        return value;
      });
      last = made.catch(() => undefined);
      return made;
    },
  };
}

/** The takes that are kept here, and those that are not kept yet: all go through this file. */
import { readTake, writeTake } from '@fivespan/core';
import { atom } from 'nanostores';
import {
  areDropped,
  dropAtClosing,
  heldTakes,
  holdTake,
  openTakeStore,
  takesToDrop,
  type TakeRecord,
  type TakeStore,
} from '../../platform/storage/index.ts';
import { notesOf } from './take-events.ts';

/** All takes that are here, newest first: kept ones and those of this page that are not kept. */
export const $takes = atom<readonly TakeRecord[]>([]);

/** Takes that were cut off when the page ended without a word: offered once. */
export const $cutOff = atom<readonly TakeRecord[]>([]);

let opening: Promise<TakeStore> | undefined;
/** Takes of this page, each with how to let go of it. */
const own = new Map<string, () => void>();

export const takeStore = (): Promise<TakeStore> => (opening ??= open());

async function open(): Promise<TakeStore> {
  const store = await openTakeStore('fivespan-takes');
  await dropNoted(store);
  dropAtClosing(
    () => [...own.keys()],
    (ids) => void store.remove(ids),
  );
  await offerCutOff(store);
  await lookAgain(store);
  return store;
}

async function dropNoted(store: TakeStore): Promise<void> {
  const ids = takesToDrop();
  if (ids.length === 0) return;
  await store.remove(ids);
  areDropped();
}

/** Takes away what was to go when a page was closed, where something was. */
export async function dropClosed(): Promise<void> {
  if (takesToDrop().length > 0) await takeStore();
}

/** A take of no open page that is not kept: its page ended without a word. It is offered once; the second time it goes. */
async function offerCutOff(store: TakeStore): Promise<void> {
  const held = await heldTakes();
  const orphans = (await store.all()).filter(({ id, state }) => state !== 'kept' && !held.has(id));
  const offered: TakeRecord[] = [];
  const gone: string[] = [];
  for (const record of orphans) {
    // oxlint-disable-next-line no-await-in-loop -- few, and one after the other
    const whole = record.isOffered ? null : await mended(store, record);
    if (whole === null) gone.push(record.id);
    else {
      offered.push(whole);
      own.set(whole.id, holdTake(whole.id));
    }
  }
  if (gone.length > 0) await store.remove(gone);
  $cutOff.set(offered);
}

/** A take that was cut off, made whole of what was written; null where nothing was played. */
async function mended(store: TakeStore, record: TakeRecord): Promise<TakeRecord | null> {
  const read = readTake(record.take);
  if (!read.ok) return null;
  const take =
    read.value.notes.length > 0 ? read.value : { ...read.value, ...notesOf(await store.appended(record.id)) };
  if (take.notes.length === 0) return null;
  const whole: TakeRecord = { ...record, state: 'not kept', isOffered: true, take: writeTake(take) };
  await store.finish(whole);
  return whole;
}

async function lookAgain(store: TakeStore): Promise<void> {
  $takes.set(
    (await store.all())
      .filter(({ id, state }) => state === 'kept' || (state === 'not kept' && own.has(id)))
      .toReversed(),
  );
}

/** Opens what is kept, so that it can be shown. */
export async function showTakes(): Promise<void> {
  await takeStore();
}

/** A take begins: it belongs to this page until it is kept. */
export async function beginTake(record: TakeRecord): Promise<void> {
  own.set(record.id, holdTake(record.id));
  await (await takeStore()).put(record);
}

/** A take is whole. */
export async function finishTake(record: TakeRecord): Promise<void> {
  const store = await takeStore();
  await store.finish(record);
  await lookAgain(store);
}

async function change(id: string, by: (record: TakeRecord) => TakeRecord): Promise<void> {
  const store = await takeStore();
  const record = await store.one(id);
  if (record === null) return;
  await store.put(by(record));
  await lookAgain(store);
}

/** Keeps a take from now on. */
export async function keepTake(id: string): Promise<void> {
  await change(id, (record) => ({ ...record, state: 'kept' }));
  own.get(id)?.();
  own.delete(id);
  $cutOff.set($cutOff.get().filter((each) => each.id !== id));
}

/** Throws a take away: nothing of it is left here. */
export async function throwAway(id: string): Promise<void> {
  const store = await takeStore();
  await store.remove([id]);
  own.get(id)?.();
  own.delete(id);
  $cutOff.set($cutOff.get().filter((each) => each.id !== id));
  await lookAgain(store);
}

/** The teacher's own remark at a bar; an empty one is taken off. */
export async function remarkAt(id: string, bar: number, text: string): Promise<void> {
  await change(id, (record) => ({
    ...record,
    remarks: [
      ...record.remarks.filter((each) => each.bar !== bar),
      ...(text.trim() === '' ? [] : [{ bar, text: text.trim() }]),
    ].toSorted((a, b) => a.bar - b.bar),
  }));
}
/** Puts a take here that was made elsewhere, kept from the start. */
export async function addTake(record: TakeRecord): Promise<void> {
  const store = await takeStore();
  await store.put({ ...record, state: 'kept' });
  await lookAgain(store);
}

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

/** Takes that could not be written as they are now: they are here as long as the page is, and nowhere else. */
const unwritten = new Map<string, TakeRecord>();

/** The ids of those takes: whoever shows one says so. */
export const $unwritten = atom<ReadonlySet<string>>(new Set());

/** Writes a whole take. @returns whether it is on the disk; where it is not it stays in memory as `otherwise` */
async function written(store: TakeStore, record: TakeRecord, otherwise: TakeRecord = record): Promise<boolean> {
  try {
    await store.finish(record);
    unwritten.delete(record.id);
  } catch {
    unwritten.set(record.id, otherwise);
  }
  $unwritten.set(new Set(unwritten.keys()));
  return !unwritten.has(record.id);
}

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
  await written(store, whole);
  return whole;
}

async function lookAgain(store: TakeStore): Promise<void> {
  const onDisk = (await store.all()).filter(({ id }) => !unwritten.has(id));
  $takes.set(
    [...onDisk, ...unwritten.values()]
      .filter(({ id, state }) => state === 'kept' || (state === 'not kept' && own.has(id)))
      .toSorted((a, b) => b.at - a.at),
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
  await written(store, record);
  await lookAgain(store);
}

async function change(id: string, by: (record: TakeRecord) => TakeRecord): Promise<boolean> {
  const store = await takeStore();
  const record = unwritten.get(id) ?? (await store.one(id));
  if (record === null) return false;
  const now = by(record);
  // what could not be written is not called kept
  const isWritten = await written(store, now, { ...now, state: record.state });
  await lookAgain(store);
  return isWritten;
}

/** Keeps a take from now on. Where it cannot be written it goes on being one of this page, and is told so. */
export async function keepTake({ id }: TakeRecord): Promise<void> {
  if (!(await change(id, (record) => ({ ...record, state: 'kept' })))) return;
  own.get(id)?.();
  own.delete(id);
  $cutOff.set($cutOff.get().filter((each) => each.id !== id));
}

/** Throws a take away: nothing of it is left here. */
export async function throwAway(id: string): Promise<void> {
  const store = await takeStore();
  await store.remove([id]);
  unwritten.delete(id);
  $unwritten.set(new Set(unwritten.keys()));
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

/** Puts a take here that was made elsewhere, kept from the start. Fails where it cannot be written. */
export async function addTake(record: TakeRecord): Promise<void> {
  const store = await takeStore();
  await store.put({ ...record, state: 'kept' });
  await lookAgain(store);
}

/** What is kept, oldest first: for a backup. */
export async function keptTakes(): Promise<readonly TakeRecord[]> {
  return (await (await takeStore()).all()).filter(({ state }) => state === 'kept');
}

/** Puts takes here, kept from the start, and takes others away: all of it or nothing. */
export async function changeTakes(put: readonly TakeRecord[], remove: readonly string[]): Promise<void> {
  const store = await takeStore();
  await store.changeAll(
    put.map((record) => ({ ...record, state: 'kept' })),
    remove,
  );
  await lookAgain(store);
}

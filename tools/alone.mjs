/** One process at a time: two commands started side by side neither install nor build over one another. */
import { closeSync, mkdirSync, openSync, readFileSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

function isRunning(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/** Builds and installs take a minute or two; a lock that is older was left behind, whoever has its owner's number now. */
const OLDEST_LOCK_MS = 15 * 60_000;

/**
 * Does a piece of work while no other process does it to the same folder; waits for one that does, and says so.
 * @template Value
 * @param {string} folder what is worked on; the lock is beside it
 * @param {string} waiting what is said where another is at it
 * @param {() => Value | Promise<Value>} work
 * @returns {Promise<Value>}
 */
export async function alone(folder, waiting, work) {
  const lock = `${folder}.lock`;
  mkdirSync(dirname(folder), { recursive: true });
  for (let waits = 0; ; waits++) {
    try {
      const file = openSync(lock, 'wx');
      writeSync(file, String(process.pid));
      closeSync(file);
      break;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
      if (waits === 10) console.error(`${waiting} …`);
      if (isLeftBehind(lock)) takeAway(lock);
      else await wait(200);
    }
  }
  try {
    return await work();
  } finally {
    rmSync(lock, { force: true });
  }
}

/** Whether a lock's owner was ended in the middle of its work. */
function isLeftBehind(lock) {
  try {
    const owner = Number(readFileSync(lock, 'utf8'));
    if (owner > 0 && !isRunning(owner)) return true;
    return Date.now() - statSync(lock).mtimeMs > OLDEST_LOCK_MS;
  } catch {
    // gone meanwhile
    return false;
  }
}

/** Takes a lock away that was left behind; of two that try, one does: a rename happens once. */
function takeAway(lock) {
  const aside = `${lock}.${process.pid}`;
  try {
    renameSync(lock, aside);
    // another may have taken it away and begun, between the look and the rename: then it is theirs
    if (isLeftBehind(aside)) rmSync(aside, { force: true });
    else renameSync(aside, lock);
  } catch {
    // another did
  }
}

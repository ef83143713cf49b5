/** Start and stop without the hands: the space bar, and whatever the player's foot reaches. */
import { atom } from 'nanostores';
import { onKeyPress } from '../../platform/keys/index.ts';
import { $settings, changeSettings } from '../settings/index.ts';
import { onMidi, takeController } from '../sound/index.ts';
import { $isCautioned, startOrPause } from './playing.ts';

/** What starts and stops besides the space bar: a key, as page turners send it, or a pedal's MIDI controller. */
export type Pedal = ReturnType<typeof $settings.get>['pedal'];

/** Whether the next key or pedal that is pressed becomes the pedal. */
export const $isAssigning = atom(false);

/** Keys that mean something else wherever they are pressed, or nothing by themselves. */
const NO_PEDALS: readonly string[] = [
  'Tab',
  'Escape',
  'Shift',
  'Control',
  'Alt',
  'Meta',
  'CapsLock',
  'Unidentified',
  'Dead',
  ' ',
];

/** From here on a pedal is down: MIDI 1.0, controllers 64 to 69 are switches with 0–63 off, 64–127 on. */
const DOWN = 64;

function assign(pedal: Pedal): void {
  changeSettings({ pedal });
  $isAssigning.set(false);
}

/** Listens to space bar and pedal from now on. @returns how to stop */
export function listenToPedals(): () => void {
  let giveBack: (() => void) | undefined;
  /** Pedals that are down: one that is held says so again and again. */
  const held = new Set<number>();
  const ends = [
    $settings.subscribe(({ pedal }) => {
      giveBack?.();
      giveBack = pedal.kind === 'controller' ? takeController(pedal.controller) : undefined;
    }),
    onKeyPress(({ key, isRepeated, isCommand, control }) => {
      if (isCommand) return false;
      if ($isAssigning.get()) {
        if (key === 'Escape') $isAssigning.set(false);
        else if (NO_PEDALS.includes(key)) return false;
        else assign({ kind: 'key', key });
        return true;
      }
      // held down, Enter would press the button that has the focus again and again
      if (key === 'Enter' && control === 'button' && isRepeated) return true;
      const { pedal } = $settings.get();
      const isPedal = pedal.kind === 'key' && pedal.key === key;
      // a button that has the focus answers the space bar itself, a field takes it as a letter; the cautions have none
      if ((key !== ' ' && !isPedal) || (control !== null && !(isPedal && $isCautioned.get()))) return false;
      if (!isRepeated) startOrPause();
      return true;
    }),
    onMidi((message) => {
      if (message.kind !== 'controller') return;
      const isDown = message.value >= DOWN;
      if ($isAssigning.get()) {
        if (isDown) assign({ kind: 'controller', controller: message.controller });
        return;
      }
      const { pedal } = $settings.get();
      const was = held.has(message.controller);
      if (isDown) held.add(message.controller);
      else held.delete(message.controller);
      if (pedal.kind === 'controller' && pedal.controller === message.controller && isDown && !was) startOrPause();
    }),
  ];
  return () => {
    for (const end of ends) end();
    giveBack?.();
    $isAssigning.set(false);
  };
}

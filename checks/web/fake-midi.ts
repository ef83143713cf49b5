/** A MIDI keyboard that a check plugs in and plays, after the Web MIDI API (W3C). */
import type { Page } from 'playwright-core';

interface FakeMidi {
  plug(name: string): void;
  unplug(name: string): void;
  send(name: string, ...bytes: number[]): void;
}

/** Puts a MIDIAccess of our own in place of the browser's: a script before a page's own. */
export function fakeMidi(): void {
  class Input extends EventTarget {
    readonly type = 'input';
    readonly name: string;
    readonly id: string;
    state = 'connected';
    constructor(name: string) {
      super();
      this.name = name;
      this.id = name;
    }
  }
  const access = Object.assign(new EventTarget(), {
    inputs: new Map<string, Input>(),
    outputs: new Map<string, never>(),
    sysexEnabled: false,
  });
  const changed = (): boolean => access.dispatchEvent(new Event('statechange'));
  const fake: FakeMidi = {
    plug: (name) => {
      access.inputs.set(name, new Input(name));
      changed();
    },
    unplug: (name) => {
      const input = access.inputs.get(name);
      if (input !== undefined) input.state = 'disconnected';
      access.inputs.delete(name);
      changed();
    },
    send: (name, ...bytes) =>
      access.inputs.get(name)?.dispatchEvent(Object.assign(new Event('midimessage'), { data: Uint8Array.from(bytes) })),
  };
  Object.assign(globalThis, { fakeMidi: fake });
  Object.defineProperty(navigator, 'requestMIDIAccess', { configurable: true, value: () => Promise.resolve(access) });
  // not allowed before: the user is to be asked
  const query = navigator.permissions.query.bind(navigator.permissions);
  navigator.permissions.query = (wanted) =>
    (wanted.name as string) === 'midi' ? Promise.resolve({ state: 'prompt' } as PermissionStatus) : query(wanted);
}

export const plug = (page: Page, name: string): Promise<void> =>
  page.evaluate((each) => (globalThis as unknown as { fakeMidi: FakeMidi }).fakeMidi.plug(each), name);
export const unplug = (page: Page, name: string): Promise<void> =>
  page.evaluate((each) => (globalThis as unknown as { fakeMidi: FakeMidi }).fakeMidi.unplug(each), name);
/** Sends a message from the keyboard named 'Stage'. */
export const send = (page: Page, ...bytes: number[]): Promise<void> =>
  page.evaluate(
    (message) => (globalThis as unknown as { fakeMidi: FakeMidi }).fakeMidi.send('Stage', ...message),
    bytes,
  );

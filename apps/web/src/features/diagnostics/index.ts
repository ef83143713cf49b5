/** A file that says what went wrong and on what machine, for whoever is asked for help. Nothing is sent anywhere. */
import { ENGINE_VERSION } from '@fivespan/core';
import { mishapsSoFar, noteMishap, surroundings } from '../../platform/diagnostics/index.ts';
import { saveFile } from '../../platform/files/index.ts';
import { recentJobs } from '../../platform/workers/index.ts';
import { $address } from '../navigation/index.ts';
import { $settings } from '../settings/index.ts';

export { noteMishap };

/** Saves the file. It holds no lesson: no title, chart or choice. */
export async function saveDiagnostics(): Promise<void> {
  const address = $address.get();
  const text = JSON.stringify(
    {
      what: 'Fivespan diagnostics. Holds no lesson. Nothing of it was sent anywhere.',
      musicEngine: ENGINE_VERSION,
      screen: address.kind === 'lesson' ? address.screen : 'lessons',
      settings: $settings.get(),
      surroundings: await surroundings(),
      mishaps: mishapsSoFar(),
      jobs: recentJobs(),
    },
    null,
    2,
  );
  saveFile('fivespan-diagnostics.json', `${text}\n`, 'application/json');
}

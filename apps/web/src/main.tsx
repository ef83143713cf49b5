/** Where the application starts: the browser's things are set going, then the first screen is shown. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { startLessons } from './features/lesson-list/index.ts';
import { firstScreen } from './features/navigation/index.ts';
import { welcome } from './features/tour/index.ts';
import { watchAddress } from './platform/address/index.ts';
import { watchMishaps } from './platform/diagnostics/index.ts';
import { watchTheme } from './platform/settings/index.ts';
import { startWorkers } from './platform/workers/index.ts';
import './ui/look/fonts.css';
import './ui/look/tokens.css';
import './ui/look/base.css';
import { App } from './ui/shell/App.tsx';

startWorkers(() => new Worker(new URL('./jobs.ts', import.meta.url), { type: 'module' }), firstScreen);
watchMishaps();
watchAddress();
watchTheme();
void startLessons()
  .then(welcome)
  // last and on its own: the first screen needs none of it, and the development server has no built files to keep
  .then(() => firstScreen)
  .then(async () => {
    await (await import('./features/takes/closed.ts')).dropClosed();
    if (import.meta.env.PROD) await (await import('./features/offline/index.ts')).startOffline();
  });
createRoot(document.getElementById('root') as HTMLElement).render(
  <StrictMode>
    <App />
  </StrictMode>,
);

/**
 * Makes the icons of the installed workbench out of the drawn one: `npx tsx tools/icons.ts`. Needs Chromium. Run it when
 * apps/web/public/icon.svg changes, and look at what came out.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const folder = join(import.meta.dirname, '..', 'apps', 'web', 'public');
const drawn = readFileSync(join(folder, 'icon.svg'), 'utf8');

/** Sizes that a web manifest is asked for (web.dev, 'Add a web app manifest'; from memory). */
const ICONS = [
  { file: 'icon-192.png', size: 192, share: 1 },
  { file: 'icon-512.png', size: 512, share: 1 },
  // systems cut a maskable icon to their own outline: what matters is within a circle of 80 % (W3C, Web Application Manifest)
  { file: 'icon-maskable-512.png', size: 512, share: 0.74 },
];

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu'] });
for (const { file, size, share } of ICONS) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(
    `<body style="margin:0;background:#faf6ec;display:grid;place-items:center;height:100vh">` +
      `<div style="width:${size * share}px;height:${size * share}px">${drawn}</div></body>`,
  );
  writeFileSync(join(folder, file), await page.screenshot());
}
await browser.close();

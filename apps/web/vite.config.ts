import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { builtFiles } from './built-files.ts';
import { CONTENT_POLICY, SERVED_HEADERS } from './content-policy.ts';
import { separateFiles } from './separate-files.ts';

/** Puts the content policy into the built page. The development server goes without: it runs scripts inside the page. */
function contentPolicy(): Plugin {
  return {
    name: 'fivespan-content-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: CONTENT_POLICY },
        injectTo: 'head-prepend',
      },
    ],
  };
}

const root = join(import.meta.dirname, '..', '..');
const textOf = (file: string): string => readFileSync(join(root, file), 'utf8');

/** Kept as soon as the workbench has opened once: everything but the engraver, the bank, the encoders, pages' fonts and pdf.js. */
const KEPT_AT_ONCE_BYTES = 450_000;

export default defineConfig({
  // relative addresses: any static host can serve it from any folder
  base: './',
  root: import.meta.dirname,
  plugins: [
    react(),
    contentPolicy(),
    builtFiles({ 'NOTICE.txt': textOf('NOTICE'), 'LICENSE.txt': textOf('LICENSE') }),
    VitePWA({
      // the page registers it (platform/offline), after the first screen is there
      injectRegister: false,
      registerType: 'prompt',
      manifest: {
        name: 'Fivespan',
        short_name: 'Fivespan',
        description: 'From a chord chart to a jazz keyboard lesson: five-note positions placed by the thumb.',
        lang: 'en',
        start_url: './',
        scope: './',
        display: 'standalone',
        background_color: '#faf6ec',
        theme_color: '#faf6ec',
        icons: [
          { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      includeManifestIcons: false,
      workbox: {
        globPatterns: [
          'index.html',
          'icon.svg',
          'files.json',
          'assets/*.{js,mjs,css}',
          // the faces of the first screen; those of other scripts come when a title needs them
          'assets/signs-*.woff2',
          'assets/source-*-latin-{opsz,wght,400}-*.woff2',
        ],
        // the plugin takes a file over this limit for a mistake: what is too large to keep at once is left out below
        maximumFileSizeToCacheInBytes: 100_000_000,
        manifestTransforms: [
          (entries) => ({ manifest: entries.filter(({ size }) => size <= KEPT_AT_ONCE_BYTES), warnings: [] }),
        ],
        // their names change with their bytes
        dontCacheBustURLsMatching: /assets\//u,
        cleanupOutdatedCaches: true,
        // everything that comes later passes through it, on a first visit too; a new version waits until it is asked for
        clientsClaim: true,
        skipWaiting: false,
        inlineWorkboxRuntime: true,
        sourcemap: false,
        runtimeCaching: [
          {
            urlPattern: ({ url, sameOrigin }) => sameOrigin && url.pathname.includes('/assets/'),
            handler: 'CacheFirst',
            options: {
              cacheName: 'fivespan-files',
              cacheableResponse: { statuses: [200] },
              // hosts say that an answer varies by who asks (Vary: Origin); these files do not
              matchOptions: { ignoreVary: true },
            },
          },
        ],
      },
    }),
  ],
  // the engraver is used in workers only
  worker: { format: 'es', plugins: () => [separateFiles({ 'verovio-module.js': 'verovio/wasm' })] },
  preview: { headers: { ...SERVED_HEADERS }, cors: false },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2023',
    // fonts, bank and pictures stay files of their own: nothing is put into scripts as text
    assetsInlineLimit: 0,
    // the workbench, and the page the command line makes films in
    rolldownOptions: { input: ['index.html', 'film.html'].map((page) => join(import.meta.dirname, page)) },
  },
});

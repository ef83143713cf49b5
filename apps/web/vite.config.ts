import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { CONTENT_POLICY, SERVED_HEADERS } from './content-policy.ts';

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

export default defineConfig({
  // relative addresses: any static host can serve it from any folder
  base: './',
  root: import.meta.dirname,
  plugins: [react(), contentPolicy()],
  worker: { format: 'es' },
  preview: { headers: { ...SERVED_HEADERS } },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2023',
    // fonts, bank and pictures stay files of their own: nothing is put into scripts as text
    assetsInlineLimit: 0,
  },
});

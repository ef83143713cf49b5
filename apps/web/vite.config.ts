import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  // relative addresses: any static host can serve it from any folder
  base: './',
  root: import.meta.dirname,
  plugins: [react()],
  worker: { format: 'es' },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2023',
    // fonts, bank and pictures stay files of their own: nothing is put into scripts as text
    assetsInlineLimit: 0,
  },
});

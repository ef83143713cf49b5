import { describe, expect, it } from 'vitest';
import { inventedScore } from './invented-score.ts';
import { scoreNoteId, scoreNoteOf } from './note-id.ts';
import { writeMusicXml } from './score-document.ts';

const score = inventedScore();
const idsIn = (xml: string): string[] => [...xml.matchAll(/<note id="([^"]*)"/gu)].map(([, id = '']) => id);

describe('ids of written notes', () => {
  it('are there only where asked for, and change nothing else', () => {
    const plain = writeMusicXml(score);
    expect(plain).not.toContain('<note id=');
    expect(writeMusicXml(score, { noteIds: true }).replaceAll(/<note id="[^"]*"/gu, '<note')).toBe(plain);
  });

  it('are unique and name every note of every staff', () => {
    const ids = idsIn(writeMusicXml(score, { noteIds: true }));
    expect(new Set(ids).size).toBe(ids.length);
    const named = new Set(ids.map((id) => JSON.stringify(scoreNoteOf(id))));
    const all = score.staves.flatMap((staff, at) => staff.notes.map((_, note) => JSON.stringify({ staff: at, note })));
    expect(named).toEqual(new Set(all));
  });

  it('keep a note together over its tied pieces', () => {
    const tied = writeMusicXml(score, { noteIds: true });
    const pieces = idsIn(tied).filter((id) => !id.endsWith('-0'));
    // the invented score has notes that sound over a bar line
    expect(pieces.length).toBeGreaterThan(0);
    for (const id of pieces) expect(idsIn(tied)).toContain(id.replace(/\d+$/u, '0'));
  });

  it('read back as they were written; other ids name nothing', () => {
    expect(scoreNoteOf(scoreNoteId(2, 31, 1))).toEqual({ staff: 2, note: 31 });
    expect(scoreNoteOf('note1')).toBeUndefined();
  });
});

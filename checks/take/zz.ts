import { align } from '../../packages/core/src/take/align.ts';
import { handsOf } from '../../packages/core/src/take/hands.ts';
import { matchedPieces } from './vienna.ts';
for (const p of matchedPieces()) {
  const t0=performance.now();
  const a = align(p.written, p.played); const t1=performance.now();
  const truth = new Set(p.pairs.map(([w,x])=>`${w} ${x}`));
  const mine = a.matched.map(({written, played})=>`${p.written[written]!.id} ${p.played[played]!.id}`);
  const tp = mine.filter(m=>truth.has(m)).length;
  const f1 = 2*tp/(mine.length+truth.size);
  const h = handsOf(p.played); const t2=performance.now();
  const staffOf = new Map(p.written.map(w=>[w.id,w.staff])); let ok=0,n=0; const wrong:string[]=[];
  const byPlayed = new Map(p.pairs.map(([w,x])=>[x,staffOf.get(w)!]));
  p.played.forEach((x,i)=>{const s=byPlayed.get(x.id); if(s===undefined)return; n++; if((s===1)===(h[i]==='right')) ok++; else wrong.push(`${x.key}@${x.startSeconds.toFixed(1)}:${h[i]}`)});
  console.log(p.name, p.written.length, p.played.length, 'F1', f1.toFixed(4), 'hands', (ok/n).toFixed(3), (t1-t0).toFixed(0),(t2-t1).toFixed(0), wrong.slice(0,12).join(' '));
}

import { judgeTake } from '@fivespan/core';
import { studentTake } from '../checks/take/students.ts';
for (const s of [121,61,100,149,73]) { const t=studentTake(s,'avoid.hanging')!; const j=judgeTake(t.lesson,t.notes,t.tempoBpm);
 console.log(s,t.about,t.bars, t.tempoBpm);
 const b=j.bars.filter(b=>t.bars.includes(b.bar.number));
 for(const x of b) for(const v of x.slots) console.log(' ',x.bar.chorus,v.slot.chord?.symbol, v.kind, v.slot.planned.chordScale?.id, v.rung?.chordScale.id, 'avoid',v.slot.avoid.toString(2), v.notes.map(n=>`${n.key}(${n.key%12})@${((n.ticks-x.bar.startTicks)/960).toFixed(2)} len${n.lengthPulses.toFixed(2)} next${n.toNextPulses.toFixed(2)}`).join(' '));
}
const strays:number[][]=[[],[]];
for (let s=1;s<=80;s++){const t=studentTake(s,null); if(!t) continue; const j=judgeTake(t.lesson,t.notes,t.tempoBpm); const u=studentTake(s,'left.uneven'); const k=u?judgeTake(u.lesson,u.notes,u.tempoBpm):null;
 if(j.left.time.stray&&k?.left.time.stray) console.log(t.tempoBpm, j.left.time.stray.value, k.left.time.stray.value);}

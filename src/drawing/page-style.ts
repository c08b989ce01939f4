import { colourProperties, pictureRules } from './palette.js';

/**
 * How pages look: one column on a phone, words beside pictures where there is room, ink on white on paper. Sizes in rem
 * follow the reader's own; text is at least 4.5:1 against what it stands on (WCAG 2.2, success criterion 1.4.3), lines 3:1
 * (1.4.11).
 */
export const pageStyle = `
:root{color-scheme:light dark;${colourProperties('light')};--desk:#f1f3f5;--line:#c9ced4;--good:#155f3c;--bad:#a31d1d;--goodback:#e3f3ea;--badback:#fbe6e4;--warn:#7a4a00;--warnback:#fdf1d8}
@media (prefers-color-scheme:dark){:root{${colourProperties('dark')};--desk:#0f151b;--line:#465361;--good:#86d9b0;--bad:#ff9d94;--goodback:#12352a;--badback:#43201e;--warn:#f1c877;--warnback:#3a2e12}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--desk);color:var(--ink);font:1rem/1.45 system-ui,sans-serif;overflow-wrap:anywhere}
header,main,footer{max-width:76rem;margin:0 auto;padding:0 .75rem}
h1{font-size:1.5rem;line-height:1.2;margin:.75rem 0 .1rem}
h2{font-size:1.2rem;line-height:1.25;margin:0 0 .5rem}
h3{font-size:1rem;margin:.9rem 0 .3rem}
p{margin:.3rem 0}
ul,ol{margin:.3rem 0;padding-left:1.3rem}
ol{padding-left:2.1rem}
a{color:var(--set)}
:focus-visible{outline:3px solid var(--set);outline-offset:2px}
.quiet{color:var(--quiet)}
.small{font-size:.875rem}
.verdict{font-size:1.25rem;font-weight:700;border-left:.5rem solid;padding:.5rem .75rem;margin:.6rem 0;border-radius:.25rem}
.good{color:var(--good);background:var(--goodback)}
.bad{color:var(--bad);background:var(--badback)}
.caution{color:var(--warn);background:var(--warnback);border:2px solid;padding:.4rem .75rem;margin:.6rem 0;border-radius:.25rem;font-weight:600}
.tag{display:inline-block;font-weight:700;padding:.1rem .5rem;border-radius:.25rem;border:1px solid}
section{background:var(--paper);border:1px solid var(--line);border-radius:.5rem;padding:.75rem;margin:.75rem 0}
.split{display:grid;gap:.5rem 1.5rem;grid-template-columns:minmax(0,1fr)}
.mixes{list-style:none;padding:0;margin:.3rem 0;display:grid;gap:.25rem;grid-template-columns:repeat(auto-fill,minmax(min(100%,19rem),1fr))}
.mixes li{display:flex;flex-wrap:wrap;align-items:center;gap:.1rem .6rem;border:1px solid var(--line);border-radius:.35rem;padding:.15rem .6rem}
.mixes label{display:flex;flex-wrap:wrap;align-items:center;gap:.5rem;min-height:2.75rem;cursor:pointer;font-weight:600}
.mixes input{width:1.5rem;height:1.5rem;flex:none;accent-color:var(--set);margin:0}
.mixes label:only-child{flex:1}
.mixes .name{flex:1 1 8rem;font-weight:600}
.mixes .quiet{display:inline-block;font-weight:400}
.mixes .output{flex:none;min-width:min(3.1rem,16vw)}
.split>section{align-self:start}
.split>section+section{margin-top:0}
.filters{list-style:none;padding:0;margin:.5rem 0}
.filters>li{border-top:1px solid var(--line);padding:.4rem 0 .5rem}
.filters h3{margin:0}
.knobs{margin:.1rem 0}
.knobs>div{display:flex;flex-wrap:wrap;gap:0 .6rem;align-items:baseline}
.knobs dd{margin:0;flex:1 1 7rem;min-width:0;font-size:.875rem}
.knobs .value{flex:0 0 min(8.75rem,100%);font-size:1.5rem;line-height:1.35;font-weight:700;font-variant-numeric:tabular-nums}
.knobs .fixed{font-size:1rem;font-weight:400;color:var(--quiet)}
.ticks{display:flex;flex-wrap:wrap;align-items:center;gap:.2rem .8rem;min-height:2.5rem}
.ticks p{margin:0}
button{font:inherit;font-size:.875rem;color:var(--ink);background:var(--paper);border:1px solid var(--line);border-radius:.35rem;min-height:2.5rem;padding:0 .75rem;cursor:pointer}
[hidden]{display:none}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
table{border-collapse:collapse;width:100%;font-size:min(1rem,6vw);font-variant-numeric:tabular-nums}
th,td{text-align:left;vertical-align:top;padding:.25rem .5rem .25rem 0;border-top:1px solid var(--line)}
thead th{border-top:0;font-size:.8em;color:var(--quiet);font-weight:600}
tbody th{overflow-wrap:normal}
table.ways th{overflow-wrap:anywhere}
thead th+th{text-align:right}
table.slots thead th{overflow-wrap:normal;text-align:left}
tr.about td{border-top:0;padding-top:0;font-size:.875em}
nav{display:flex;flex-wrap:wrap;gap:.4rem;margin:.4rem 0}
nav a{display:flex;align-items:center;min-height:2.5rem;padding:0 .75rem;border:1px solid var(--line);border-radius:.35rem;background:var(--paper);font-weight:600}
.number,.ways td{text-align:right;white-space:nowrap;overflow-wrap:normal}
.scroll{overflow-x:auto}
details{margin:.5rem 0}
summary{cursor:pointer;min-height:1.75rem}
pre{background:var(--desk);border:1px solid var(--line);border-radius:.25rem;padding:.4rem .6rem;white-space:pre-wrap;margin:.3rem 0;font-size:.875rem}
code{font-family:ui-monospace,monospace}
td code{white-space:nowrap}
.word{display:inline-block;max-width:100%}
dl.pairs{margin:.3rem 0;display:grid;gap:.1rem 1rem;grid-template-columns:repeat(auto-fill,minmax(min(100%,20rem),1fr))}
dl.pairs>div{display:flex;flex-wrap:wrap;gap:0 .5rem;align-items:baseline}
dl.pairs dt{flex:none;color:var(--quiet);font-size:.875rem}
dl.pairs dd{margin:0;flex:1 1 8rem;min-width:0;font-weight:600}
.cards{list-style:none;padding:0;margin:.3rem 0;display:grid;gap:.6rem;grid-template-columns:repeat(auto-fill,minmax(min(100%,21rem),1fr))}
.cards>li{border:1px solid var(--line);border-radius:.35rem;padding:.5rem .75rem}
.cards h3{margin:0}
.tag.good,.tag.bad{border-left-width:.4rem}
figure{margin:0}
figure svg{display:block;width:100%;max-width:34rem;height:auto}
figcaption{font-size:.875rem;color:var(--quiet)}
.paper{display:none}
${pictureRules}
@media (min-width:52rem){.split>section+section{margin-top:.75rem}.split{grid-template-columns:minmax(0,1.15fr) minmax(0,1fr)}}
@media print{
:root{color-scheme:light;${colourProperties('light')};--desk:#ffffff;--line:#9aa1a9;--good:#155f3c;--bad:#a31d1d;--goodback:#ffffff;--badback:#ffffff;--warn:#7a4a00;--warnback:#ffffff}
@page{margin:12mm;@bottom-right{content:"page " counter(page) " of " counter(pages);font-size:8pt}}
html{font-size:10pt}
header,main,footer{max-width:none;padding:0}
nav,.screen,details:not([open]){display:none}
section{border:0;border-radius:0;padding:0;margin:0 0 6mm}
.group+.group{break-before:page}
.group{display:table;width:100%}
.paper{display:table-header-group;break-inside:avoid;font-size:9pt;font-weight:600}
.paper>span{display:block;border-bottom:1px solid var(--line);padding-bottom:1mm;margin-bottom:3mm}
.split{grid-template-columns:minmax(0,1fr) 78mm}
.filters>li,.mixes li,li,tr,pre,figure,.verdict,.caution{break-inside:avoid}
section[id^=mix-]{break-inside:avoid}
figure.tall svg{max-width:74mm}
h1,h2,h3,.verdict,.caution,p:has(+pre),tr:has(+.about){break-after:avoid}
.mixes label{min-height:0}
a{color:inherit;text-decoration:none}
}
`;

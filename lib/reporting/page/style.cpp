#include "reporting/page/style.h"

namespace thickset {
namespace {

constexpr const char* everywhere = R"(*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:#ffffff;color:#1f1d1a;
font:16px/1.45 system-ui,-apple-system,"Segoe UI","DejaVu Sans",sans-serif;
overflow-wrap:break-word}
main{max-width:1120px;margin:0 auto;padding:24px 16px 48px}
h1,h2,p,ul,figure,table{margin:0}
h1{font-size:1rem;font-weight:400;color:#57524a}
h2{font-size:1.05rem;font-weight:600;margin-bottom:10px}
.to-do{margin:6px 0 10px}
.to-do p{font-size:1.35rem;line-height:1.3;font-weight:600;text-wrap:balance}
.to-do ul{margin:6px 0;padding-left:1.2em}
.made-for{color:#57524a;max-width:60em}
section{margin-top:34px}
section p+p,section ul+p,section p+ul,section table+p{margin-top:8px}
section ul{padding-left:1.2em}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}
caption{text-align:left;padding-bottom:8px}
th,td{text-align:right;font-weight:400;padding:5px 12px 5px 0;vertical-align:baseline}
thead th{font-size:.85rem;color:#57524a;border-bottom:1.5px solid #6b665e;vertical-align:bottom}
tbody tr{border-bottom:1px solid #dedad2}
th:last-child,td:last-child{padding-right:0}
.steps{width:100%}
.steps td,.steps tbody th{padding-top:9px;padding-bottom:9px}
.steps .tick{width:34px;text-align:left}
.steps .key{font-weight:600}
.steps tbody th,.outcome tbody th,.outcome thead th:first-child,.steps thead th:nth-child(2){text-align:left}
.steps .for{color:#57524a;margin-left:.4em}
.steps .write{width:15%;border-left:1px solid #dedad2;padding-left:10px;text-align:left}
.steps input{width:20px;height:20px;margin:0;vertical-align:-4px}
.card{margin-top:12px}
.hours{width:100%}
.hours+.hours{margin-top:22px}
.pair+p{margin-top:14px}
.hours tbody th,.hours thead th:first-child{text-align:left;white-space:nowrap}
.hot{font-weight:600}
.numbers{font-size:.9rem;margin-top:8px}
.small{font-size:.9rem}
.chart{display:block;width:100%;height:auto}
figcaption{font-size:.9rem;margin-top:6px;color:#57524a}
summary{font-size:.9rem;padding:8px 0;cursor:pointer}
:focus-visible{outline:3px solid #0b62a8;outline-offset:2px}
.charts,.tabled{display:grid;grid-template-columns:minmax(0,1fr);column-gap:40px}
@media (min-width:900px){.charts,.tabled{grid-template-columns:minmax(0,1fr) minmax(0,1fr)}
.words{column-count:2;column-gap:40px}}
@media (max-width:600px){main{padding:16px 12px 40px}
.to-do p{font-size:1.2rem}
.steps{font-size:.85rem}
.steps th,.steps td{padding-right:6px}
.steps .for{display:block;margin:0}
.steps .tick{width:26px}
.hours{font-size:.85rem}
.hours th,.hours td{padding-right:5px}
}
@media screen and (max-width:600px){.steps .write{display:none}}
)";

constexpr const char* dark = R"(@media screen and (prefers-color-scheme:dark){
body{background:#181715;color:#ece8df}
h1,.made-for,thead th,figcaption,.steps .for{color:#b9b2a6}
thead th{border-bottom-color:#a8a196}
tbody tr{border-bottom-color:#3b3834}
.steps .write{border-left-color:#3b3834}
:focus-visible{outline-color:#78bdf2}
}
)";

constexpr const char* paper = R"(@page{margin:9mm}
@media print{
body{font-size:8.3pt;line-height:1.25}
main{max-width:none;padding:0}
h1{font-size:8.6pt}
h2{font-size:9.4pt;margin-bottom:2pt}
.to-do{margin:2pt 0 4pt;max-width:none}
.to-do p{font-size:13pt}
section{margin-top:9pt}
section p+p,section ul+p,section p+ul,section table+p{margin-top:3pt}
caption{padding-bottom:3pt}
th,td{padding-top:2pt;padding-bottom:2pt}
.steps td,.steps tbody th{padding-top:4pt;padding-bottom:4pt}
.steps input{width:10pt;height:10pt;vertical-align:-1.5pt}
.card{margin-top:5pt}
details{display:none}
.charts{grid-template-columns:minmax(0,1fr) minmax(0,1fr);column-gap:9mm}
.tabled{display:block}
.tabled .chart{max-width:104mm}
.pair{display:grid;grid-template-columns:minmax(0,5fr) minmax(0,3fr);column-gap:9mm;align-items:start}
.pair .hours+.hours{margin-top:0}
.chart-part,tr,figure{break-inside:avoid}
h2{break-after:avoid}
figcaption,.small,.numbers,thead th{font-size:7.4pt}
.chart-part{margin-top:6pt}
.words{column-count:3;column-gap:6mm}
.words h2{font-size:8.4pt}
.much .small{font-size:6.6pt;line-height:1.18;margin-top:4pt}
.much{column-gap:5mm}
.charts .chart-part{margin-top:4pt}
}
)";

}  // namespace

std::string page_style() {
  return std::string{everywhere} + dark + paper;
}

}  // namespace thickset

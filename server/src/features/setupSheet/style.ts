/** How the sheet looks: black on white, no more than one sheet of A4 or Letter for a set-up. */
export const STYLE = `
@page { margin: 10mm 12mm 9mm }
* { box-sizing: border-box }
html { background: #ddd; color: #000 }
body { margin: 0; padding: 0; color: #000; font: 8.4pt/1.28 system-ui, "Segoe UI", "Helvetica Neue", Arial, "Liberation Sans", sans-serif; -webkit-print-color-adjust: exact; print-color-adjust: exact }
.sheet { background: #fff; width: 190mm; min-height: 250mm; margin: 6mm auto; padding: 6mm; display: flex; flex-direction: column; gap: 2.3mm }
header { display: flex; justify-content: space-between; align-items: flex-end; border-bottom: .6mm solid #000; padding-bottom: 1mm; gap: 6mm }
header h1 { font-size: 10pt; margin: 0; font-weight: 600 }
header h2 { font-size: 17pt; line-height: 1.1; margin: .6mm 0 0 }
header p { margin: 0; text-align: right; white-space: nowrap }
h3 { font-size: 8.6pt; margin: 0 0 .8mm; text-transform: uppercase; letter-spacing: .04em }
p { margin: 0 }
.top { display: flex; gap: 5mm; align-items: flex-start }
.top .aside { flex: 1; min-width: 0; display: flex; flex-direction: column; gap: 2mm }
.caption { font-size: 7.4pt; max-width: 108mm }
svg { display: block }
svg text { font-size: 2.7px; fill: #000 }
svg text.large { font-size: 3.8px }
svg.blank text { paint-order: stroke; stroke: #fff; stroke-width: .8px }
dl { margin: 0 }
dl div { display: flex; border-bottom: .15mm solid #999; padding: .35mm 0; break-inside: avoid }
dt { flex: 0 0 16mm; color: #333 }
dd { margin: 0; font-weight: 600; min-width: 0; overflow-wrap: anywhere }
.pictures { display: flex; flex-wrap: wrap; gap: 1mm; align-items: flex-start }
.two { display: grid; grid-template-columns: 58fr 42fr; gap: 5mm }
ul { margin: 0; padding: 0; list-style: none }
.ticks li { position: relative; padding: 0 0 .9mm 5.4mm; break-inside: avoid }
.box { position: absolute; left: 0; top: .3mm; width: 3.4mm; height: 3.4mm; border: .3mm solid #000 }
table { width: 100%; border-collapse: collapse }
th { text-align: left; font-size: 7.4pt; font-weight: 600; border-bottom: .4mm solid #000; padding: 0 1.2mm .4mm; vertical-align: bottom }
td { border-bottom: .15mm solid #777; padding: .55mm 1.2mm; vertical-align: top; overflow-wrap: anywhere }
tr { break-inside: avoid }
.bits td:last-child { white-space: nowrap }
.checks td { height: 5.8mm; vertical-align: middle }
.checks td { white-space: pre-line }
.checks td:nth-child(n + 4), .checks th:nth-child(n + 4) { border-left: .15mm solid #777; width: 17mm }
.checks.of1 td:nth-child(4) { width: 38mm }
.checks td:nth-child(2) { white-space: pre; font-weight: 700 }
.checks td:nth-child(3) { white-space: pre; font-size: 7.5pt }
.open ul { padding-left: 0 }
.open li { padding-bottom: .6mm; overflow-wrap: anywhere }
.cautions { border: .5mm solid #000; padding: 1.4mm 2mm; margin-top: auto; font-size: 7.8pt; break-inside: avoid }
.cautions h3 { font-size: 7.8pt }
footer { font-size: 7.8pt; display: flex; justify-content: space-between; gap: 4mm; border-top: .15mm solid #777; padding-top: .8mm }
.note { margin: 1.2mm 0 0; font-size: 7.5pt; color: #333 }
.hint { max-width: 190mm; margin: 4mm auto 0; font-size: 10pt }
@media print {
  html { background: #fff }
  .hint { display: none }
  .sheet { width: auto; min-height: 0; margin: 0; padding: 0; break-after: page }
  .sheet:last-of-type { break-after: auto }
}
`

import { allowNoReason } from './allow/no-reason.ts'
import { allowUnused } from './allow/unused.ts'
import { arcEndsDiffer } from './arc/ends-differ.ts'
import { arcNoCentre } from './arc/no-centre.ts'
import { arcRadiusTooSmall } from './arc/radius-too-small.ts'
import { arcWrongPlane } from './arc/wrong-plane.ts'
import { depthBelowStock } from './depth/below-stock.ts'
import { depthColletContact } from './depth/collet-contact.ts'
import { depthOddStep } from './depth/odd-step.ts'
import { depthPassTooDeep } from './depth/pass-too-deep.ts'
import { depthPastCuttingLength } from './depth/past-cutting-length.ts'
import { depthThinFloor } from './depth/thin-floor.ts'
import { depthThinWall } from './depth/thin-wall.ts'
import { feedChipLoadHigh } from './feed/chip-load-high.ts'
import { feedChipLoadLow } from './feed/chip-load-low.ts'
import { feedChipsPacked } from './feed/chips-packed.ts'
import { feedMissing } from './feed/missing.ts'
import { feedOverMachine } from './feed/over-machine.ts'
import { feedPower } from './feed/power.ts'
import { handNoBearing } from './hand/no-bearing.ts'
import { holdCutLoose } from './hold/cut-loose.ts'
import { holdRocks } from './hold/rocks.ts'
import { inlayCorner } from './inlay/corner.ts'
import { inlayCutThrough } from './inlay/cut-through.ts'
import { inlayGapBeneath } from './inlay/gap-beneath.ts'
import { inlayLeftThin } from './inlay/left-thin.ts'
import { inlayNotMirrored } from './inlay/not-mirrored.ts'
import { inlayNotRevealed } from './inlay/not-revealed.ts'
import { inlayOffFloor } from './inlay/off-floor.ts'
import { inlayPlugShort } from './inlay/plug-short.ts'
import { inlaySawInWeb } from './inlay/saw-in-web.ts'
import { inlayTooLoose } from './inlay/too-loose.ts'
import { inlayTooTight } from './inlay/too-tight.ts'
import { levelIncomplete } from './level/incomplete.ts'
import { levelLeavesProud } from './level/leaves-proud.ts'
import { levelPassTooDeep } from './level/pass-too-deep.ts'
import { levelRidges } from './level/ridges.ts'
import { motionCutsNothing } from './motion/cuts-nothing.ts'
import { motionEndsLow } from './motion/ends-low.ts'
import { motionKeepOut } from './motion/keep-out.ts'
import { motionLowTravel } from './motion/low-travel.ts'
import { motionOffBlank } from './motion/off-blank.ts'
import { motionOutsideTravel } from './motion/outside-travel.ts'
import { motionRapidThroughStock } from './motion/rapid-through-stock.ts'
import { motionUnsafeStart } from './motion/unsafe-start.ts'
import { plungeNotCentreCutting } from './plunge/not-centre-cutting.ts'
import { plungeOntoFloor } from './plunge/onto-floor.ts'
import { plungeRapid } from './plunge/rapid.ts'
import { plungeTooFast } from './plunge/too-fast.ts'
import { plungeTooSteep } from './plunge/too-steep.ts'
import { programAfterEnd } from './program/after-end.ts'
import { programNoEnd } from './program/no-end.ts'
import { programNoUnits } from './program/no-units.ts'
import { programNotSimulated } from './program/not-simulated.ts'
import { programPrinter } from './program/printer.ts'
import { programUnitsDiffer } from './program/units-differ.ts'
import type { Rule } from './rule.ts'
import { sawGrooveShort } from './saw/groove-short.ts'
import { sheetBadJson } from './sheet/bad-json.ts'
import { sheetBadNumber } from './sheet/bad-number.ts'
import { sheetBadValue } from './sheet/bad-value.ts'
import { sheetDeclarationNotRead } from './sheet/declaration-not-read.ts'
import { sheetDuplicateField } from './sheet/duplicate-field.ts'
import { sheetDuplicateName } from './sheet/duplicate-name.ts'
import { sheetMissingField } from './sheet/missing-field.ts'
import { sheetMissingFile } from './sheet/missing-file.ts'
import { sheetNotAPlug } from './sheet/not-a-plug.ts'
import { sheetNotAPocket } from './sheet/not-a-pocket.ts'
import { sheetOutsideFolder } from './sheet/outside-folder.ts'
import { sheetPinsNotSymmetric } from './sheet/pins-not-symmetric.ts'
import { sheetTooLarge } from './sheet/too-large.ts'
import { sheetUnknownBit } from './sheet/unknown-bit.ts'
import { sheetUnknownBlank } from './sheet/unknown-blank.ts'
import { sheetUnknownCopy } from './sheet/unknown-copy.ts'
import { sheetUnknownField } from './sheet/unknown-field.ts'
import { sheetUnknownSetup } from './sheet/unknown-setup.ts'
import { sheetWhichPlug } from './sheet/which-plug.ts'
import { sheetWrongOrder } from './sheet/wrong-order.ts'
import { spindleNoSpeed } from './spindle/no-speed.ts'
import { spindleOutOfRange } from './spindle/out-of-range.ts'
import { spindleStopped } from './spindle/stopped.ts'
import { syntaxBadExpression } from './syntax/bad-expression.ts'
import { syntaxBadNumber } from './syntax/bad-number.ts'
import { syntaxBadWord } from './syntax/bad-word.ts'
import { syntaxDuplicateWord } from './syntax/duplicate-word.ts'
import { syntaxLineTooLong } from './syntax/line-too-long.ts'
import { syntaxModalClash } from './syntax/modal-clash.ts'
import { syntaxNotInDialect } from './syntax/not-in-dialect.ts'
import { syntaxReadTwoWays } from './syntax/read-two-ways.ts'
import { syntaxUnclosedComment } from './syntax/unclosed-comment.ts'
import { syntaxUnknownCode } from './syntax/unknown-code.ts'
import { toolChangedWhileCutting } from './tool/changed-while-cutting.ts'
import { toolNone } from './tool/none.ts'
import { toolUnknown } from './tool/unknown.ts'

/** Every rule, once: the engine runs these, the index and the settings list these. */
export const ALL_RULES: readonly Rule[] = [
  syntaxBadExpression,
  syntaxBadNumber,
  syntaxBadWord,
  syntaxDuplicateWord,
  syntaxLineTooLong,
  syntaxModalClash,
  syntaxNotInDialect,
  syntaxReadTwoWays,
  syntaxUnclosedComment,
  syntaxUnknownCode,
  arcEndsDiffer,
  arcNoCentre,
  arcRadiusTooSmall,
  arcWrongPlane,
  programAfterEnd,
  programNoEnd,
  programNoUnits,
  programNotSimulated,
  programPrinter,
  programUnitsDiffer,
  feedChipLoadHigh,
  feedChipLoadLow,
  feedChipsPacked,
  feedMissing,
  feedOverMachine,
  feedPower,
  spindleNoSpeed,
  spindleOutOfRange,
  spindleStopped,
  toolChangedWhileCutting,
  toolNone,
  toolUnknown,
  plungeNotCentreCutting,
  plungeOntoFloor,
  plungeRapid,
  plungeTooFast,
  plungeTooSteep,
  motionCutsNothing,
  motionEndsLow,
  motionKeepOut,
  motionLowTravel,
  motionOffBlank,
  motionOutsideTravel,
  motionRapidThroughStock,
  motionUnsafeStart,
  depthBelowStock,
  depthColletContact,
  depthOddStep,
  depthPassTooDeep,
  depthPastCuttingLength,
  depthThinFloor,
  depthThinWall,
  holdCutLoose,
  holdRocks,
  inlayCorner,
  inlayCutThrough,
  inlayGapBeneath,
  inlayLeftThin,
  inlayNotMirrored,
  inlayNotRevealed,
  inlayOffFloor,
  inlayPlugShort,
  inlaySawInWeb,
  inlayTooLoose,
  inlayTooTight,
  levelIncomplete,
  levelLeavesProud,
  levelPassTooDeep,
  levelRidges,
  sawGrooveShort,
  handNoBearing,
  sheetBadJson,
  sheetBadNumber,
  sheetBadValue,
  sheetDeclarationNotRead,
  sheetDuplicateField,
  sheetDuplicateName,
  sheetMissingField,
  sheetMissingFile,
  sheetNotAPlug,
  sheetNotAPocket,
  sheetOutsideFolder,
  sheetPinsNotSymmetric,
  sheetTooLarge,
  sheetUnknownBit,
  sheetUnknownBlank,
  sheetUnknownCopy,
  sheetUnknownField,
  sheetUnknownSetup,
  sheetWhichPlug,
  sheetWrongOrder,
  allowNoReason,
  allowUnused,
]

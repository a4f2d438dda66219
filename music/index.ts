/**
 * The only door of the music core. A module is a noun: `Keys.signatureOf(key)`, `ChordSymbol.read('Am7/G')`.
 * Types stand beside the modules by their own names.
 */
export { failure, success } from './result.ts';
export type { Failure, Problem, Result, Success } from './result.ts';

export * as Pitches from './pitch/pitch.ts';
export type { Letter, NoteName, Pitch, PitchName } from './pitch/pitch.ts';
export * as NoteNames from './pitch/note-names.ts';
export type { NamedNotes } from './pitch/note-names.ts';
export * as Intervals from './pitch/interval.ts';
export type { Interval } from './pitch/interval.ts';
export * as Keys from './pitch/key.ts';
export type { Key, Mode } from './pitch/key.ts';
export * as ChordSymbol from './pitch/chord-symbol.ts';
export { CHORD_KINDS } from './pitch/chord.ts';
export type { Chord, ChordDegree, ChordKind } from './pitch/chord.ts';

export { QUARTER } from './score/score.ts';
export { SECTION_KINDS } from './score/sections.ts';
export type * from './score/score.ts';
export * as Scores from './score/check-score.ts';
export * as CountIn from './score/count-in.ts';
export * as NumberWords from './score/number-words.ts';
export * as Form from './score/form.ts';
export type { NamedPass, Stretch } from './score/form.ts';
export * as Sentences from './score/sentence.ts';
export type { Sentence } from './score/sentence.ts';
export * as Transpose from './score/transpose.ts';
export type { Direction, TransposeOptions } from './score/transpose.ts';
export * as SungLines from './score/sung-lines.ts';
export type { SungPass, SungPiece } from './score/sung-lines.ts';
export * as VerseText from './score/verse-text.ts';
export * as Tempos from './score/tempos.ts';
export * as Time from './score/time.ts';
export * as Reduction from './score/reduction.ts';
export type { Density, Evidence, NonChordTone, Reading } from './score/reduction.ts';

export type * from './parts/level.ts';
export type * from './parts/part.ts';

export * as MusicXml from './formats/musicxml.ts';
export type { MusicXmlOptions } from './formats/musicxml.ts';
export * as Parts from './parts/parts.ts';
export * as BarsChanged from './parts/bars-changed.ts';
export * as PagePlayers from './parts/page-players.ts';
export * as Builds from './parts/form/builds.ts';
export * as Endings from './parts/form/endings.ts';
export * as Textures from './parts/form/textures.ts';
export * as KeysOfForm from './parts/form/keys-of-form.ts';
export * as Rungs from './parts/rungs.ts';
export * as RungWords from './parts/rung-words.ts';
export type { Ladder } from './parts/rung-words.ts';
export type { OwnRungs, Rungs as RungSteps } from './parts/rungs.ts';
export { ENDINGS, MOST_UP, TEXTURES } from './parts/arrangement.ts';
export type * from './parts/arrangement.ts';

export * as RightHand from './hand/right-hand.ts';
export { REACH } from './hand/right-hand-options.ts';
export type { PlannedMove, RightHandOptions, RightHandPlan } from './hand/right-hand.ts';
export * as Fingering from './hand/fingering.ts';
export * as Motion from './hand/motion.ts';
export * as MoveWords from './hand/move-words.ts';
export * as Moves from './hand/move.ts';
export type { MoveStep } from './hand/move.ts';
export type { Hand, Shape } from './hand/shape.ts';
export * as LeftHand from './hand/left-hand.ts';
export type { HandPosition, LeftHandOptions, LeftHandPlan } from './hand/left-hand.ts';
export * as BassNeck from './hand/bass-places.ts';
export type { NeckPlace } from './hand/bass-places.ts';
export * as Difficulty from './hand/difficulty.ts';
export type * from './hand/difficulty.ts';
export type { TechniqueRubric } from './hand/technique.ts';
export { HAND_CAUTIONS } from './hand/cautions.ts';
export type { HandCaution } from './hand/cautions.ts';

export * as Tessitura from './voice/tessitura.ts';
export type { PitchTime, SectionTessitura, SongTessitura } from './voice/tessitura.ts';
export * as Ranges from './voice/range.ts';
export type { Octave, OctaveChoice, Range, Singer } from './voice/range.ts';
export * as KeyFit from './voice/key-fit.ts';
export type {
  EndsRow,
  FitRow,
  FrontRow,
  HandCost,
  KeyFitFront,
  KeyFitOptions,
  KeyFitTable,
  SectionFit,
  Verdict,
  VoiceRow,
} from './voice/key-fit.ts';
export type {
  Asked,
  Demands,
  DemandsOf,
  KeyChange,
  NoteInVoice,
  PassesFit,
  PassFit,
  SectionAsked,
} from './voice/key-fit.ts';
export * as Congregation from './voice/congregation.ts';
export { GUIDELINE_IDS } from './voice/congregation.ts';
export type { Guideline, GuidelineId } from './voice/congregation.ts';
export * as TeamSingers from './parts/singer/team-singers.ts';
export * as Harmony from './voice/harmony/line.ts';
export type { HarmonyLine, HarmonyNote, HarmonyOptions } from './voice/harmony/line.ts';
export * as Room from './voice/room.ts';
export { ROOM_GROUP_IDS } from './voice/room-groups.ts';
export type { KeyInRoom, NoteInRoom, RoomGroupId, RoomShares } from './voice/room.ts';
export * as Children from './voice/children.ts';
export * as FindRange from './voice/find-range.ts';
export { VOICE_KINDS } from './voice/find-range.ts';
export type { RangeAnswer, RangeSearch, RangeStage, VoiceKind } from './voice/find-range.ts';
export * as RangeAge from './voice/range-age.ts';
export * as Cautions from './voice/cautions.ts';
export type { VoiceCaution } from './voice/cautions.ts';

export * as Abc from './formats/abc.ts';
export * as KeyFinding from './score/key-finding.ts';
export type { FoundKey } from './score/key-finding.ts';

export * as Sheets from './sheet/sheet.ts';
export type { TextVerse } from './sheet/words-under.ts';
export type { HandPicture, Sheet, SheetHeading, SheetSystem } from './sheet/sheet.ts';
export * as PartFiles from './sheet/part-files.ts';
export type { PartOwner } from './sheet/part-files.ts';
export * as Engraving from './sheet/engrave.ts';
export type { Engraved, EngraveRequest } from './sheet/engrave.ts';
export type { Engraver, EngraverSettings } from './sheet/engraver.ts';
export { measuresOf, PAGE_LIMITS } from './sheet/page.ts';
export { drawHand } from './sheet/hand-picture.ts';
export type { DrawnHand, DrawnKey } from './sheet/hand-picture.ts';
export { ACCIDENTAL, ACCIDENTAL_SCALE, CHORD_GLYPHS } from './sheet/chord-text.ts';
export { COPYING } from './sheet/copying.ts';
export { parseSvg } from './sheet/svg-tree.ts';
export type { SvgElement, SvgNode } from './sheet/svg-tree.ts';
export type { PageMeasures, PageRequest } from './sheet/page.ts';
export * as WordsSheets from './sheet/words-sheets.ts';
export type * from './sheet/words-sheet.ts';
export type { OrderInput, OrderItem, OrderLine, OrderSheet } from './sheet/order-sheet.ts';
export * as PlayedKeys from './hand/played-key.ts';
export * as PlayersInKey from './parts/in-key/players-in-key.ts';
export type {
  PlayerCost,
  PlayerInKey,
  Weighed,
  WeighedRole,
} from './parts/in-key/players-in-key.ts';
export * as EasierKeys from './hand/easier-key.ts';
export * as PutBack from './hand/put-back.ts';
export type { Ease, PlayedKey } from './hand/played-key.ts';
export * as WordsAndChords from './formats/words-and-chords.ts';
export type {
  ReadLine,
  ReadWord,
  TextMark,
  TextReading,
  WordsAndChordsOptions,
} from './formats/words-and-chords.ts';

export * as OrderSheets from './sheet/order-sheet.ts';
export * as RoleWords from './parts/role-words.ts';
export * as Leads from './order/leads.ts';
export type { Serving } from './order/leads.ts';
export * as Lengths from './order/lengths.ts';
export type { SongLength } from './order/lengths.ts';
export * as Transition from './score/ways/transition.ts';
export * as Onwards from './order/onward.ts';
export type { Neighbours, OrderedItem } from './order/onward.ts';
export { WAY_KINDS } from './score/ways/transition.ts';
export type { SongEdge, Way, WayKind } from './score/ways/transition.ts';
export * as Fullness from './order/best/fullness.ts';
export * as ServiceOrder from './order/best/best-order.ts';
export { PRICES as ORDER_PRICES } from './order/best/terms.ts';
export type * from './order/best/terms.ts';
export * as Stands from './order/stands/stands.ts';
export { STAND_PRICES } from './order/stands/terms.ts';
export type * from './order/stands/terms.ts';
export * as MissingRoles from './order/missing-roles.ts';
export * as Known from './order/known.ts';
export type { KnownShape, PlayedPart, ShapeAhead } from './order/known.ts';
export * as PartDifficulty from './parts/keys/part-difficulty.ts';
export type { PartDifficultyItem, PartEase } from './parts/keys/part-difficulty.ts';

export * as Editing from './editing/editing.ts';
export type * from './editing/edit.ts';
export type { BlankSong, Cursor } from './editing/editing.ts';
export * as HymnMeter from './score/hymn-meter.ts';
export type { FoundMeter } from './score/hymn-meter.ts';
export * as Midi from './formats/midi.ts';
export type { MidiReadOptions, MidiTrack, MidiWriteOptions } from './formats/midi.ts';
export * as Quantise from './score/quantise.ts';
export type { Division, PlayedNote, Quantised, QuantisedNote } from './score/quantise.ts';
export * as KeyProfile from './score/key-profile.ts';
export type { RankedKey } from './score/key-profile.ts';
export * as SongFiles from './formats/song-files.ts';
export type { SongFile, SongFormat } from './formats/song-files.ts';
export * as Tunes from './library/tunes.ts';
export type { TuneMatch, TuneSign } from './library/tunes.ts';
export * as Scripture from './library/scripture.ts';
export type { Passage } from './library/scripture.ts';
export * as LibraryEntries from './library/entry.ts';
export type { LibraryEntry } from './library/entry.ts';
export * as RangeFit from './library/range-fit.ts';
export type { AskedRange } from './library/range-fit.ts';
export * as SearchWords from './library/search-words.ts';
export * as Credits from './score/credits.ts';
export * as NotedDetails from './library/noted-details.ts';
export type { NotedIn } from './library/noted-details.ts';
export { NO_DETAILS } from './library/details.ts';
export type { Author, Layer, Rights, SongDetails } from './library/details.ts';

export * as SingersHelp from './parts/keys/singers-help.ts';
export type { HelpForSingers } from './parts/keys/singers-help.ts';

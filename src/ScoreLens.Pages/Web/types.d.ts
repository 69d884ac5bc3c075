/** The data that a page carries; written by PageData.cs. */
interface PageData {
  title: string;
  measures: { n: string; t: number; d: number; h?: string }[];
  chords: PageChord[];
  phrases: { n: number; t: number; e: number }[];
  remarks: PageRemark[];
  notes: string;
  labels: boolean;
}
interface PageChord {
  t: number;
  d: number;
  m: number;
  measure: string;
  beat: string;
  place: string;
  colour: string;
  key: string;
  keyLetter: string;
  numeral: string;
  symbol: string;
  function: string;
  device?: string;
  deviceTitle?: string;
  sign?: string;
  code?: string;
  also: string[];
  target?: string;
  resolution: string;
  outsideHome: boolean;
  phrase: number;
  confidence: number;
  reason: string;
  runnersUp: { key: string; numeral: string; p: number }[];
  tones: string[];
  pitchClasses: number[];
  bass?: string;
  bassClass?: number;
  others: string[];
}
interface PageRemark {
  n: number;
  t: number;
  m: number;
  fault: boolean;
  text: string;
}
interface System {
  top: number;
  bottom: number;
  labels: number;
  taken: number[];
  marks: { x: number; row: number }[];
}
interface SliceMeasure {
  t: number;
  end: number;
  left: number;
  right: number;
  places: { t: number; x: number }[];
  system: System;
}
interface Slice {
  from: number;
  to: number;
  element: HTMLElement;
  endsPhrase: boolean;
  systems: System[];
  measures: SliceMeasure[];
  drawn: boolean;
  failed: boolean;
}
interface Label {
  index: number;
  t: number;
  m: number;
  offset: number;
  key: string;
  numeral: string;
  device: string;
  reserved: boolean;
}
interface DrawnLabel {
  label: Label;
  group: SVGElement;
  text: SVGTextElement;
  device: SVGTextElement | null;
  at: number;
}
declare const opensheetmusicdisplay: any;

import { type Area, phrase } from '../phrases.ts';
import type { SurroundCell, Tiled } from '../tiles/tile.ts';
import { patchName, stepName } from './areaName.ts';
import type { Finding } from './finding.ts';
import { bestSpot } from './glareSpot.ts';
import { lnLight, markGroups, type OwnVariation, tableGroup } from './lightGroups.ts';
import { bestEdge, type LightEdge } from './shadowEdge.ts';
import { type SmoothLight, smoothLight } from './smoothLight.ts';

/** What surfaces vary by in ln light under even light: a printed grey, dyed cloth, a plain table. */
const OWN: OwnVariation = { card: 0.012, step: 0.05, surround: 0.03, perTint: 0 };
/** Fall of the weighted squares at which a shape is more than chance: in faultless photos no change of 10 % gains 2. */
const LEAST_GAIN = 3;
const LEAST_SPOT_GAIN = 4;
/** Share of what smooth light leaves unexplained that an edge or a spot must explain: many small faults are neither. */
const LEAST_SHARE = 0.4;
/** The same where the table was asked too, which may have edges of its own. */
const LEAST_SHARE_WITH_TABLE = 0.5;
/** A shadow of less than this between card and strip, ln light, is left to the light field: 10 %. */
const LEAST_SPAN = 0.1;
/** Light added by glare that matters, a share of the brightest area. On cloth a thread alone adds up to 3 %. */
const LEAST_LIFT = { card: 0.005, step: 0.04, surround: 1 };
/** Brightest against darkest place of card and strip: table light usually stays within 10 to 40 % [method §3]. */
const MOST_UNEVEN = 1.6;
/** In such light an edge of less than this is the fall-off itself, steeper than a second-order field; ln light. */
const FALL_OFF_SPAN = 0.2;

const nameOf = (tiled: Tiled, light: SmoothLight, group: number): string => {
  const { of, index } = light.groups[group];
  return of === 'card' ? patchName(tiled.card[index].name) : stepName(tiled.steps[index].seconds);
};

const areaOf = (tiled: Tiled, light: SmoothLight, group: number): Area => {
  const { of, index } = light.groups[group];
  return of === 'card' ? { patch: tiled.card[index].name } : { seconds: tiled.steps[index].seconds };
};

/** The marked area that lies nearest to the edge. */
const groupAtEdge = (light: SmoothLight, edge: LightEdge): number => {
  const [c, s] = [Math.cos(edge.angle), Math.sin(edge.angle)];
  let [nearest, least] = [0, Number.POSITIVE_INFINITY];
  for (let k = 0; k < light.u.length; k++) {
    if (light.groups[light.groupOf[k]].of === 'surround') continue;
    const far = Math.abs(light.u[k] * c + light.v[k] * s - edge.at);
    if (far < least) [nearest, least] = [light.groupOf[k], far];
  }
  return nearest;
};

/** Is this edge a shadow's? Not where it is slight beside the fall-off of all light, `range`. */
const isShadow = (
  edge: LightEdge | null,
  light: SmoothLight,
  leastShare: number,
  range: number,
): edge is LightEdge =>
  edge !== null &&
  edge.gain >= Math.max(LEAST_GAIN, leastShare * light.squares) &&
  edge.lnSpan >= (range > MOST_UNEVEN ? FALL_OFF_SPAN : LEAST_SPAN);

const shadowFinding = (tiled: Tiled, light: SmoothLight, edge: LightEdge): Finding => {
  const group = groupAtEdge(light, edge);
  const where = nameOf(tiled, light, group);
  const share = 1 - Math.exp(-edge.lnSpan);
  return {
    code: 'shadow-edge',
    severity: 'retake',
    where,
    message: `The edge of a shadow runs across card and strip, at ${where}: the light changes there by ${(100 * share).toFixed(0)} %. Move so that neither you nor the phone nor a window frame casts a shadow on them. If there is none, look whether a mark reaches over its area's border.`,
    phrase: phrase('shadow-edge', { area: areaOf(tiled, light, group), share }),
  };
};

/** Brightest over darkest light at the marks, by the smooth field. */
const rangeOf = (light: SmoothLight): number => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < light.u.length; k++) {
    if (light.groups[light.groupOf[k]].of === 'surround') continue;
    const at = light.at(light.u[k], light.v[k]);
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  return Math.exp(high - low);
};

/**
 * Does the light on card and strip change smoothly, and not too much?
 *
 * What a smooth field leaves within card patches and steps is compared with the edge of a shadow and with a spot of
 * glare; the better one is named. Where neither is seen, the table is asked for a shadow that falls between patches.
 */
export const lightFindings = (tiled: Tiled, table: readonly SurroundCell[] | null): Finding[] => {
  const marks = markGroups(tiled, lnLight, OWN);
  const light = smoothLight(marks);
  const edge = bestEdge(light);
  const spot = bestSpot(light, tiled);
  const glaring =
    spot !== null &&
    spot.gain >= Math.max(LEAST_SPOT_GAIN, LEAST_SHARE * light.squares) &&
    spot.lift >= LEAST_LIFT[light.groups[spot.group].of];
  if (glaring && spot.gain > (edge?.gain ?? 0)) {
    const where = nameOf(tiled, light, spot.group);
    return [
      {
        code: 'glare',
        severity: 'retake',
        where,
        message: `A lamp or window is mirrored on ${where}: in one place it is ${(100 * (Math.exp(spot.lnLift) - 1)).toFixed(0)} % lighter than in another, as by a spot of added light. Move lamp or camera until the shine is gone, so that light comes from the side. If nothing shines, look whether the mark reaches over its area's border.`,
        phrase: phrase('glare', {
          area: areaOf(tiled, light, spot.group),
          share: Math.exp(spot.lnLift) - 1,
        }),
      },
    ];
  }
  const wide = table === null ? light : smoothLight([...marks, tableGroup(tiled, table, lnLight, OWN)]);
  const range = rangeOf(wide);
  if (isShadow(edge, light, LEAST_SHARE, range)) return [shadowFinding(tiled, light, edge)];
  const wideEdge = table === null ? null : bestEdge(wide);
  if (isShadow(wideEdge, wide, LEAST_SHARE_WITH_TABLE, range)) return [shadowFinding(tiled, wide, wideEdge)];
  if (range <= MOST_UNEVEN) return [];
  return [
    {
      code: 'light-uneven',
      severity: 'retake',
      message: `The light on card and strip differs by a factor of ${range.toFixed(1)} from the brightest to the darkest place. Move the lamp further away, or lay card and strip so that both are equally far from lamp or window.`,
      phrase: phrase('light-uneven', { factor: range }),
    },
  ];
};

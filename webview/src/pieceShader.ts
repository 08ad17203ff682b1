import { SEAM_STEPS } from './seam.ts'
import { common, materials } from './woodShader.ts'

export const pieceVertex = /* glsl */ `
in vec2 tile;
uniform highp sampler2D columns;
uniform ivec2 size;
uniform float cell;
uniform bool upper;
uniform bool crisp;
uniform highp isampler2D edges;
out vec3 blankAt;
out float hollow;
/** Out of the wall that the vertex stands on; nothing where it stands on none. */
out vec2 lookingOut;

vec4 columnAt(ivec2 c) {
  if (any(lessThan(c, ivec2(0))) || any(greaterThanEqual(c, size))) return vec4(0.0, 0.0, 0.0, -1.0);
  return texelFetch(columns, c, 0);
}

void main() {
  vec2 place = min(tile + position.xy, vec2(size));
  ivec2 v = ivec2(floor(place + 0.5));
  vec4 column = columnAt(v);
  float z = upper ? column.r : column.g;
  hollow = 0.0;
  if (column.a < 0.0) {
    // An empty column beside solid ones carries their wall down to their far face.
    hollow = 1.0;
    float far = upper ? 1e9 : -1e9;
    for (int j = -1; j <= 1; j++) for (int i = -1; i <= 1; i++) {
      vec4 next = columnAt(v + ivec2(i, j));
      if (next.a >= 0.0) far = upper ? min(far, next.g) : max(far, next.r);
    }
    z = abs(far) < 1e8 ? far : 0.0;
  }
  vec2 shift = vec2(0.0);
  lookingOut = vec2(0.0);
  if (crisp) {
    bool within = all(greaterThanEqual(v, ivec2(0))) && all(lessThan(v, size));
    ivec4 edge = within ? texelFetch(edges, v, 0) : ivec4(0);
    if (edge.b != 0) {
      float turn = float(edge.b) * (6.2831853 / 65536.0);
      shift = vec2(edge.rg) * 0.001;
      lookingOut = vec2(cos(turn), sin(turn));
      if (hollow == 0.0) z += (upper ? 1.0 : -1.0) * float(edge.a) * 0.001;
    }
    // The rim of the blank lies half a cell beyond the outermost centres.
    for (int axis = 0; axis < 2; axis++) {
      float rim = 0.0;
      if (v[axis] < 0) rim = 0.5;
      else if (v[axis] >= size[axis]) rim = -0.5;
      else if (v[axis] == 0 && shift[axis] == 0.0 && hollow == 0.0) rim = -0.5;
      else if (v[axis] == size[axis] - 1 && shift[axis] == 0.0 && hollow == 0.0) rim = 0.5;
      if (rim == 0.0) continue;
      shift[axis] = rim;
      if (length(lookingOut) < 0.5) lookingOut[axis] = v[axis] < size[axis] / 2 ? -1.0 : 1.0;
    }
  }
  blankAt = vec3((place + 0.5 + shift) * cell, z);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(blankAt, 1.0);
}
`

export const pieceFragment = /* glsl */ `
precision highp float;
precision highp int;
uniform highp sampler2D columns;
uniform sampler2D light;
uniform sampler2D scale;
uniform ivec2 size;
uniform float cell;
uniform bool upper;
uniform float low;
uniform float high;
uniform vec3 sun;
uniform vec3 eye;
uniform vec3 sky;
uniform vec3 bounce;
uniform float sunlight;
uniform float shadows;
/** 0: as it is; 1: depth under the face; 2: the number of each column. */
uniform int layer;
uniform vec2 range;
uniform highp sampler2D values;
/** Nothing is drawn where this, times the place, is more than its last number. */
uniform vec4 cutPlane;
uniform bool crisp;
/** Distance from the joint with what is set in, cells: 0.5 at it, more inside. */
uniform sampler2D seam;
in vec3 blankAt;
in float hollow;
in vec2 lookingOut;
out vec4 colour;
${common}

vec4 columnAt(ivec2 c) {
  if (any(lessThan(c, ivec2(0))) || any(greaterThanEqual(c, size))) return vec4(0.0, 0.0, 0.0, -1.0);
  return texelFetch(columns, c, 0);
}

${materials}

int upperOf(vec4 column) { return int(column.a + 0.5) & 15; }
int lowerOf(vec4 column) { return int(column.a + 0.5) >> 4; }
int faceOf(vec4 column) { return upper ? upperOf(column) : lowerOf(column); }

void main() {
  if (hollow > 0.999 || dot(cutPlane.xyz, blankAt) > cutPlane.w) discard;
  vec3 px = dFdx(blankAt);
  vec3 py = dFdy(blankAt);
  vec3 flatNormal = normalize(cross(px, py));
  float blur = 0.5 * (length(px) + length(py));
  // Walls that stand at their place stand upright; a stair of cells leans.
  float wall = crisp ? 1.0 - smoothstep(0.06, 0.16, abs(flatNormal.z)) : 1.0 - smoothstep(0.3, 0.5, abs(flatNormal.z));

  // Nine columns round about: a quadratic spline through them gives a normal and an outline without steps.
  vec2 at = blankAt.xy / cell;
  ivec2 middle = ivec2(floor(at));
  vec2 f = at - vec2(middle) - 0.5;
  vec3 wx = vec3(0.5 * (0.5 - f.x) * (0.5 - f.x), 0.75 - f.x * f.x, 0.5 * (0.5 + f.x) * (0.5 + f.x));
  vec3 wy = vec3(0.5 * (0.5 - f.y) * (0.5 - f.y), 0.75 - f.y * f.y, 0.5 * (0.5 + f.y) * (0.5 + f.y));
  vec3 sx = vec3(f.x - 0.5, -2.0 * f.x, f.x + 0.5);
  vec3 sy = vec3(f.y - 0.5, -2.0 * f.y, f.y + 0.5);
  float h[9];
  int made[9];
  float leastH = 1e9;
  float mostH = -1e9;
  vec4 tall = vec4(0.0, 0.0, 0.0, -1.0);
  vec2 slope = vec2(0.0);
  for (int j = 0; j < 3; j++) for (int i = 0; i < 3; i++) {
    vec4 column = columnAt(middle + ivec2(i - 1, j - 1));
    bool solid = column.a >= 0.0;
    float z = solid ? (upper ? column.r : -column.g) : (upper ? low : -high);
    h[j * 3 + i] = z;
    made[j * 3 + i] = solid ? faceOf(column) : -1;
    leastH = min(leastH, z);
    mostH = max(mostH, z);
    if (solid && (tall.a < 0.0 || z > (upper ? tall.r : -tall.g))) tall = column;
    slope += vec2(sx[i] * wy[j], wx[i] * sy[j]) * z;
  }
  slope /= cell;
  vec2 gentle = slope;
  if (mostH - leastH > 2.2 * cell) {
    float left = h[4] - h[3];
    float right = h[5] - h[4];
    float near = h[4] - h[1];
    float far = h[7] - h[4];
    gentle = vec2(abs(left) < abs(right) ? left : right, abs(near) < abs(far) ? near : far) / cell;
    gentle *= step(length(gentle), 2.5);
  }
  vec3 floorNormal = normalize(vec3(-gentle, 1.0));
  // Beside a wall that stands at its place the drawn face itself says it best.
  if (crisp && mostH - leastH > 2.2 * cell) floorNormal = upper ? flatNormal : flatNormal * vec3(1.0, 1.0, -1.0);
  vec2 out2 = lookingOut;
  if (crisp && wall > 0.01 && length(out2) > 0.25) {
    out2 = normalize(out2);
    slope = dot(out2, flatNormal.xy) < 0.0 ? out2 : -out2;
  } else if (wall > 0.01) {
    // A wall that runs aslant of the cells is a stair; looked at from twice as far it is a wall again.
    slope = vec2(0.0);
    for (int j = -2; j <= 2; j++) for (int i = -2; i <= 2; i++) {
      vec4 column = columnAt(middle + 2 * ivec2(i, j));
      vec2 off = 2.0 * vec2(float(i), float(j)) - f;
      float z = column.a >= 0.0 ? (upper ? column.r : -column.g) : (upper ? low : -high);
      slope += off * exp(-0.12 * dot(off, off)) * clamp(z, upper ? blankAt.z - 4.0 : -blankAt.z - 4.0, upper ? blankAt.z + 4.0 : 4.0 - blankAt.z);
    }
  }
  vec3 wallNormal = length(slope) > 0.01 ? normalize(vec3(-slope, 0.05)) : floorNormal;
  vec3 normal = normalize(mix(floorNormal, wallNormal, wall));
  if (!upper) normal.z = -normal.z;

  int own = made[4];
  int other = own;
  float share = 0.0;
  if (wall > 0.5) {
    own = other = max(blankAt.z > tall.b + 0.001 ? upperOf(tall) : lowerOf(tall), 0);
  } else {
    for (int k = 0; k < 9; k++) if (made[k] >= 0 && own >= 0 && made[k] != own) {
      other = made[k];
      share += wx[k % 3] * wy[k / 3];
    }
    if (own < 0) own = other = max(faceOf(tall), 0);
  }
  float soft = clamp(blur / cell * 0.5, 0.06, 0.5);
  float part = other != own ? smoothstep(0.5 - soft, 0.5 + soft, share) : 0.0;
  if (crisp && other != own && own * other == 0) {
    // Beside its joint what is set in is told by the wall of its pocket, not by cells.
    float within = (texture(seam, blankAt.xy / (vec2(size) * cell)).r * 255.0 - 128.0) / ${SEAM_STEPS}.0;
    float pixel = clamp(blur / cell, 0.02, 1.0);
    float inner = smoothstep(-0.5 * pixel, 0.5 * pixel, within);
    part = own == 0 ? inner : 1.0 - inner;
  }
  float seamLine = (1.0 - abs(2.0 * part - 1.0)) * 0.35;
  vec3 base = vec3(0.0);
  float gloss = 0.0;
  // One call in a loop: the two materials of a joint share the code, which some renderers write out at every call.
  for (int k = 0; k < 2; k++) {
    float weight = k == 0 ? 1.0 - part : part;
    if (weight < 0.004) continue;
    float shine;
    base += weight * material(k == 0 ? own : other, blankAt, normal, blur, shine);
    gloss += weight * shine;
  }
  base *= 1.0 - seamLine;

  // A wall is lit as the air before it: at its own place the light is half that of the wood behind.
  vec2 litAt = (blankAt.xy + wall * 2.0 * normal.xy) / (vec2(size) * cell);
  vec4 lit = texture(light, litAt);
  float beside = max(max(-litAt.x, litAt.x - 1.0), max(-litAt.y, litAt.y - 1.0));
  if (beside > 0.0) lit = vec4(0.85, 1.0, 0.85, 1.0);
  float open = upper ? lit.r : lit.b;
  float sunned = mix(1.0, upper ? lit.g : lit.a, shadows);
  // The coarse light sees a wall as half buried; its own foot and head say better.
  float depth = upper ? high - blankAt.z : blankAt.z - low;
  open = mix(open, mix(0.95, open, clamp(depth / 12.0, 0.3, 0.85)), wall);
  float towards = dot(normal, sun);
  float key = max(towards, 0.0) * mix(sunned, mix(sunned, 1.0, 0.35), wall);
  vec3 ambient = mix(bounce, sky, 0.5 + 0.5 * (upper ? normal.z : -normal.z)) * open * open;
  if (layer > 0) {
    float number = upper ? extent.z - blankAt.z : blankAt.z;
    if (layer == 2) number = texelFetch(values, clamp(middle, ivec2(0), size - 1), 0).r;
    float share = clamp((number - range.x) / (range.y - range.x), 0.002, 0.998);
    base = linear(texture(scale, vec2(share, 0.5)).rgb);
    colour = vec4(shown(base * mix(1.0, 0.55 * key + 0.75 * open, 0.55)), 1.0);
    return;
  }
  vec3 view = normalize(eye - blankAt);
  vec3 halfway = normalize(view + sun);
  float facing = max(dot(normal, view), 0.0);
  float fresnel = 0.04 + 0.96 * pow(1.0 - facing, 5.0);
  vec3 c = base * (ambient + vec3(1.0, 0.955, 0.89) * key * sunlight);
  if (gloss > 0.5) {
    vec3 mirrored = reflect(-view, normal);
    // A window over the bench, seen in the gloss.
    float window = smoothstep(0.55, 0.9, dot(mirrored, sun)) + 0.35 * smoothstep(0.1, 0.9, upper ? mirrored.z : -mirrored.z);
    c = c * 0.85 + vec3(0.95, 0.98, 1.0) * fresnel * window * 1.3 * open;
    c += vec3(1.0) * pow(max(dot(normal, halfway), 0.0), 180.0) * sunned * 0.9;
  } else {
    c += vec3(1.0, 0.97, 0.92) * pow(max(dot(normal, halfway), 0.0), 14.0) * gloss * sunned * sunlight;
    c += sky * fresnel * gloss * 0.6 * open;
  }
  colour = vec4(shown(c), 1.0);
}
`

/** GLSL shared by the piece and the bench: noise and the light of the shop. */
export const common = /* glsl */ `
uniform mediump sampler3D grain;
/** Smooth noise, 0..1, one swell a unit: read from a small solid texture, which costs far less than working it out. */
float noise(vec3 p) { return texture(grain, p * (1.0 / 32.0)).r; }
float hash1(float n) { return fract(sin(n * 12.9898) * 43758.5453); }
vec3 linear(vec3 c) { return pow(c, vec3(2.2)); }
vec3 shown(vec3 c) {
  // A soft shoulder keeps pale wood in full sun from going to paper white.
  c = c * (1.0 + c * 0.12) / (1.0 + c * 0.28);
  return pow(max(c, 0.0), vec3(1.0 / 2.2));
}
`

/** Most materials in one blank: its own wood and what is set into it. */
export const MATERIALS = 8
/** The last of them is glue. */
export const GLUE = 7

/** GLSL of what every material looks like as a solid: the figure of any face is where that face cuts it. */
export const materials = /* glsl */ `
uniform vec3 extent;
uniform bool grainAlongY;
uniform vec3 early[${MATERIALS}];
uniform vec3 late[${MATERIALS}];
uniform vec4 figure[${MATERIALS}];
uniform vec2 nature[${MATERIALS}];

/** Planed wood as a solid: the figure of any face, end grain too, is where that face cuts the tree. */
vec3 wood(int m, vec3 p, vec3 normal, float blur, out float gloss) {
  vec3 q = grainAlongY ? vec3(p.y, p.x, p.z) : p;
  vec3 n = grainAlongY ? normal.yxz : normal;
  float wide = grainAlongY ? extent.x : extent.y;
  float seed = float(m) * 37.0;
  vec4 fig = figure[m];
  // The heart of the tree runs below the board and a little aside of it, and wanders.
  float w1 = noise(vec3(q.x * 0.009 + seed, q.y * 0.012, q.z * 0.012));
  float w2 = noise(vec3(q.x * 0.021 + seed, q.y * 0.03, q.z * 0.03 + 9.0));
  vec2 heart = vec2(wide * (0.42 + 0.2 * fract(seed * 0.31)), -26.0 - 18.0 * fract(seed * 0.17));
  vec2 d = q.yz - heart + vec2(26.0 * (w1 - 0.5), 15.0 * (w1 - 0.5) + 5.0 * (w2 - 0.5));
  float years = length(d) / fig.x + 0.5 * w2;
  float year = floor(years);
  float k = years - year;
  float strength = 0.55 + 0.45 * hash1(year + seed);
  float edge = clamp(blur / fig.x, 0.03, 1.0);
  float ring = smoothstep(0.1, 0.92, k) * (1.0 - smoothstep(1.0 - edge, 1.0, k));
  float t = 0.18 + 0.5 * (w1 - 0.5) + nature[m].x * strength * ring * (1.0 - smoothstep(0.5, 1.5, edge));
  // Fibres: fine across, long along the grain; left out where they are finer than a pixel.
  float fine = 1.0 - smoothstep(0.12, 0.5, blur);
  float fibre = noise(vec3(q.x * 0.12 + seed, q.y * 1.3, q.z * 1.3));
  t += 0.22 * (fibre - 0.5);
  if (fine > 0.0) t += 0.28 * fine * (noise(vec3(q.x * 0.3, q.y * 5.0 + seed, q.z * 5.0)) - 0.5);
  if (fig.w > 0.0) {
    float curl = sin(q.x * 0.55 + 5.0 * noise(vec3(q.x * 0.03, q.y * 0.05, seed)) + q.y * 0.05);
    t += 0.10 * fig.w * curl * (0.4 + 0.6 * w2);
  }
  vec3 c = mix(early[m], late[m], clamp(t, 0.0, 1.15));
  if (fig.y > 0.0 && blur < 1.2) {
    float pore = noise(vec3(q.x * 0.22, q.y * 2.6 + seed, q.z * 2.6));
    c *= 1.0 - 0.5 * fig.y * smoothstep(0.68, 0.82, pore) * (0.45 + 0.55 * ring) * (1.0 - smoothstep(0.5, 1.2, blur));
  }
  if (fig.z > 0.0 && blur < 1.2) {
    // Rays stand out where the face runs towards the heart.
    vec2 out2 = normalize(d);
    float quarter = 1.0 - abs(dot(n.yz, out2));
    float fleck = noise(vec3(q.x * 0.14, dot(d, vec2(-out2.y, out2.x)) * 1.6 + seed, length(d) * 0.22));
    c *= 1.0 + fig.z * (0.06 + 0.22 * quarter) * (smoothstep(0.62, 0.85, fleck) - 0.25) * (1.0 - smoothstep(0.5, 1.2, blur));
  }
  // End grain drinks the light.
  float end = n.x * n.x;
  c *= mix(1.0, 0.74, end);
  gloss = 0.10 * (1.0 - 0.7 * end);
  return c;
}

vec3 material(int m, vec3 p, vec3 normal, float blur, out float gloss) {
  if (nature[m].y > 0.5) {
    gloss = 1.0;
    float swirl = noise(p * 0.05 + 3.0 * noise(p * 0.03)) + 0.4 * noise(p * 0.21);
    return mix(late[m], early[m], smoothstep(0.35, 1.05, swirl));
  }
  return wood(m, p, normal, blur, gloss);
}
`

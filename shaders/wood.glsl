// Solid wood: growth rings round a pith, pores along the fibre, rays, streaks. Also bone, horn and antler, which
// have streaks and pores but no rings.
uniform vec3 pale;    // linear colours of early and late wood
uniform vec3 dark;
uniform vec4 rings;   // period mm, contrast, distance of the pith mm, waviness mm
uniform vec4 pores;   // share of cells that have one, cell mm, darkness, how much they keep to early wood
uniform vec3 fibre;    // world
uniform vec4 figure;  // streak contrast, streak width mm, sheen, darkening of end grain

in vec3 grain_at;
in vec3 grain_facing;

// Distance from the pith in ring periods. It wanders slowly along the trunk, so that flat faces show flames.
float ring_number(vec3 g) {
  vec3 slow = vec3(g.x * 0.011, g.y * 0.045, g.z * 0.045);
  vec2 aside = vec2(noise(slow), noise(slow + 17.3)) - 0.5;
  vec2 ripple = vec2(noise(vec3(g.x * 0.055, g.yz * 0.30) + 5.1), noise(vec3(g.x * 0.055, g.yz * 0.30) + 9.7)) - 0.5;
  vec2 from_pith = vec2(g.y + rings.z, g.z) + rings.w * (5.0 * aside + 0.45 * ripple);
  float number = length(from_pith) / rings.x;
  // Wet and dry years.
  return number + 1.1 * noise(vec3(number * 0.45, 3.3, 8.8));
}

// 0 in early wood, rising to 1 in late wood, then falling at once.
float late_wood(float number, float blur) {
  float f = fract(number);
  float late = f * f * (0.35 + 0.65 * f) * (1.0 - smoothstep(0.93 - blur, 1.0, f));
  float year = 0.55 + 0.75 * random(ivec3(int(floor(number)), 5, 11));
  return mix(late * year, 0.26, smoothstep(0.25, 0.9, blur));
}

// Darkness of the pores: thin tubes along the fibre, each in a cell of its own.
float pore_dark(vec3 g, float late, float pixel) {
  float cell = pores.y;
  vec2 square = g.yz / cell;
  ivec2 id = ivec2(floor(square));
  float own = random(ivec3(id, 3));
  float length_mm = 3.0 + 7.0 * own * own;
  float along = g.x / length_mm + own * 31.0;
  ivec3 tube = ivec3(id, int(floor(along)));
  float dice = random(tube);
  float share = pores.x * mix(1.0, 2.0 * (1.0 - smoothstep(0.05, 0.45, late)), pores.w);
  if (dice > share) return 0.0;
  vec2 middle = 0.5 + 0.36 * (vec2(random(tube + 7), random(tube + 13)) - 0.5);
  float wide = mix(0.12, 0.27, random(tube + 23));
  float end = fract(along);
  wide *= smoothstep(0.0, 0.12, end) * smoothstep(1.0, 0.88, end);
  float soft = 0.06 + 0.5 * pixel / cell;
  return smoothstep(wide + soft, wide - soft, distance(fract(square), middle)) * visible(cell * 0.8, pixel);
}

// Uneven layers along the fibre, about 0.
float fine_layers(vec3 g, float pixel) {
  float fine = noise(vec3(g.x * 0.10, g.yz * 2.4));
  return mix(fine, noise(vec3(g.x * 0.32, g.yz * 8.5)), 0.45 * visible(0.12, pixel)) - 0.5;
}

// Its colour at a place, the surface there facing as given. `blur`: ring periods that a pixel spans.
vec3 solid_wood(vec3 g, vec3 n_grain, float pixel, float number, float blur, float fine) {
  float late = late_wood(number, blur);
  // Dark layers follow the rings and give out slowly along them, with a wavy rim: on end grain they are bands
  // of the rings, never patches across them.
  float depth_mm = number * rings.x;
  vec3 layer = vec3(g.x * 0.012, depth_mm / figure.y * 0.42, g.z * 0.018);
  float rim = noise(vec3(g.x * 0.05, depth_mm * 0.9, g.z * 0.16) + 60.0) - 0.5;
  float streak = smoothstep(0.46, 0.80, noise(layer + 40.0) + 0.14 * rim);

  float shade = clamp(rings.y * late + figure.x * streak + 0.20 * fine, 0.0, 1.0);
  vec3 albedo = mix(pale, dark, shade);
  // Slow drift of the colour, as in every board.
  albedo *= 0.92 + 0.16 * noise(vec3(g.x * 0.02, g.yz * 0.09) + 80.0);

  float end_grain = n_grain.x * n_grain.x;
  // Rays shine on quartered faces.
  float quartered = n_grain.z * n_grain.z;
  float rays = noise(vec3(g.x * 0.55, g.y * 0.30, g.z * 5.0) + 90.0);
  albedo *= 1.0 + 0.16 * figure.z * quartered * smoothstep(0.60, 0.85, rays) * visible(0.2, pixel);
  albedo *= 1.0 - pores.z * pore_dark(g, late, pixel) * mix(1.0, 0.8, end_grain);
  // Open ends drink more of the finish.
  return mix(albedo, albedo * albedo / (dot(albedo, vec3(0.33)) + 0.12) * 0.86, figure.w * smoothstep(0.05, 0.8, end_grain));
}

// Fibres throw light into a band square to them, which makes figured wood come alive when it is turned.
vec3 lustre(vec3 albedo, float fine, float end_grain) {
  vec3 along = to_camera * fibre;
  float across = dot(along, normalize(key + toward_eye()));
  return albedo * (1.0 + figure.z * (0.35 + fine) * pow(max(1.0 - across * across, 0.0), 9.0) * (1.0 - end_grain));
}

// Wood under its finish.
vec4 finished_wood(vec3 albedo, float fine, float end_grain) {
  if (unlit) return coded(albedo);
  return finished(lustre(albedo, fine, end_grain), normalize(to_camera * facing), 0.34);
}

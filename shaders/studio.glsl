// The light of a small studio that goes round with the camera: a large soft box up on the left, a strip on the
// right, a pale ceiling. Directions are in the camera's frame: x right, y up, z toward the eye.
uniform mat3 to_camera;    // world direction -> camera frame
uniform vec3 eye;          // mm; parallel views: far away along the line of sight
uniform vec3 key;           // unit, toward the soft box
uniform vec4 tint;         // colour and strength of a highlight
uniform sampler2DShadow shadow_map;
uniform vec2 shadow_step;  // blur of the shadow's rim in the map; x 0: no shadows
uniform bool unlit;        // colours alone, as under even white light

in vec3 place;
in vec3 facing;
in vec4 light_at;

out vec4 fragment;

// Radiance from a direction, blurred by the roughness of what mirrors it.
vec3 studio(vec3 d, float rough) {
  float blur = 0.03 + rough;
  vec3 light = mix(vec3(0.150, 0.147, 0.145), vec3(0.54, 0.55, 0.57), smoothstep(-0.75 - blur, 0.95 + blur, d.y));
  // A white wall behind the camera, brighter on the key's side.
  light += vec3(0.30, 0.296, 0.288) * smoothstep(-0.9 - blur, 0.7 + blur, d.z - 0.30 * d.x + 0.20 * d.y);
  float box = smoothstep(0.90 - 0.95 * blur, 0.90 + 0.25 * blur, dot(d, key));
  float strip = smoothstep(0.20 + blur, 0.02, abs(d.x - 0.80)) * smoothstep(-0.5, 0.1, d.y) *
                smoothstep(0.95, 0.5, d.y);
  light += vec3(2.8, 2.7, 2.55) * box / (1.0 + 2.0 * rough);
  light += vec3(0.62, 0.68, 0.76) * strip / (1.0 + 1.5 * rough);
  return light;
}

// Share of the key light that arrives: nine looks into the shadow map round the place.
float key_light(vec3 n) {
  if (shadow_step.x == 0.0) return 1.0;
  float slant = 1.0 - max(dot(n, key), 0.0);
  float lift = 0.0012 + 0.0035 * slant;
  float sum = 0.0;
  for (int i = -1; i <= 1; ++i)
    for (int j = -1; j <= 1; ++j)
      sum += texture(shadow_map, vec3(light_at.xy + vec2(i, j) * shadow_step, light_at.z - lift));
  return sum / 9.0;
}

// Light that a dull surface sends back, for white.
vec3 dull(vec3 n, float lit) {
  vec3 ambient = mix(vec3(0.150, 0.140, 0.130), vec3(0.375, 0.390, 0.415), n.y * 0.5 + 0.5);
  ambient *= mix(0.80, 1.0, lit);
  // The soft box is wide: it reaches a little round the edge of the shadow side.
  float direct = clamp((dot(n, key) + 0.18) / 1.18, 0.0, 1.0);
  float fill = clamp(dot(n, vec3(0.78, 0.10, 0.62)), 0.0, 1.0);
  return ambient + vec3(0.74, 0.715, 0.675) * direct * lit + vec3(0.075, 0.085, 0.10) * fill;
}

vec3 toward_eye() {
  return normalize(to_camera * (eye - place));
}

// The sRGB curve.
vec3 srgb(vec3 light) {
  return mix(12.92 * light, 1.055 * pow(light, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, light));
}

vec4 coded(vec3 light) {
  return vec4(mix(srgb(clamp(light, 0.0, 1.0)), tint.rgb, tint.a), 1.0);
}

// The film: straight up to a good grey, then a shoulder instead of a clip; then the sRGB curve.
vec4 developed(vec3 light) {
  vec3 over = max(light - 0.62, 0.0);
  light = min(light, 0.62) + 0.38 * (1.0 - exp(-over / 0.38));
  return coded(light);
}

// Fresnel's factor (Schlick, Computer Graphics Forum 13 (1994) 233-246).
vec3 mirror_share(vec3 straight, float cosine) {
  return straight + (1.0 - straight) * pow(1.0 - clamp(cosine, 0.0, 1.0), 5.0);
}

// A dull body under a thin clear finish.
vec4 finished(vec3 albedo, vec3 n, float rough) {
  if (unlit) return coded(albedo);
  float lit = key_light(n);
  vec3 v = toward_eye();
  float share = mirror_share(vec3(0.04), dot(n, v)).x * (1.0 - 0.55 * rough);
  vec3 gloss = studio(reflect(-v, n), rough) * mix(0.5, 1.0, lit);
  return developed(albedo * dull(n, lit) * (1.0 - share) + gloss * share);
}

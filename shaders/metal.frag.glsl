// Metal, brushed along its fibre. Narrow edges are brushed along themselves, the ends of pins across.
uniform vec3 mirror;  // linear colour of what it throws straight back
uniform vec4 brush;   // depth of the scratches, their width mm, roughness, 1 for a pin

in vec3 grain_at;
in vec3 grain_facing;

void main() {
  if (unlit) {
    fragment = coded(mirror);
    return;
  }
  vec3 g = grain_at;
  vec3 n_grain = normalize(grain_facing);
  bool end = brush.w > 0.5 && abs(n_grain.x) > 0.7;
  bool edge = abs(n_grain.y) < 0.5;
  vec3 run = end ? vec3(g.y * 0.05, g.x, g.z) : vec3(g.x * 0.05, g.y, edge ? g.z * 0.05 : g.z);
  float pixel = pixel_size(g);
  vec3 cell = vec3(1.0, 1.0 / brush.y, 1.0 / brush.y);
  float scratch = noise(run * cell) * 0.6 + noise(run * cell * vec3(1.7, 2.9, 2.9) + 20.0) * 0.4 - 0.5;
  scratch *= visible(brush.y * 1.5, pixel);
  float cloud = noise(g * vec3(0.06, 0.25, 0.25) + 50.0) - 0.5;

  vec3 n = normalize(to_camera * facing);
  vec3 side = normalize(cross(n, abs(n.y) < 0.9 ? vec3(0.0, 1.0, 0.0) : vec3(1.0, 0.0, 0.0)));
  n = normalize(n + side * scratch * brush.x + vec3(0.0, cloud * 0.03, 0.0));
  vec3 v = toward_eye();
  float lit = key_light(n);
  vec3 share = mirror_share(mirror, dot(n, v));
  vec3 seen = studio(reflect(-v, n), brush.z) * mix(0.45, 1.0, lit);
  // Scratches scatter some of the light as a dull surface would.
  vec3 light = share * (0.72 * seen + 0.34 * dull(n, lit)) * (1.0 + 2.4 * brush.x * scratch + 0.10 * cloud);
  fragment = developed(light);
}

// Cast plastic and the like: one colour, glossy.
uniform vec3 pale;

in vec3 grain_at;

void main() {
  vec3 albedo = pale * (0.97 + 0.06 * noise(grain_at * 0.35));
  fragment = finished(albedo, normalize(to_camera * facing), 0.12);
}

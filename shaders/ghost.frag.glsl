// As if of glass: clear where it is seen straight on, tinted toward its rim.
uniform vec3 pale;

void main() {
  vec3 n = normalize(to_camera * facing);
  float rim = 1.0 - abs(dot(n, toward_eye()));
  float alpha = 0.10 + 0.55 * rim * rim;
  fragment = developed(pale * 0.9 + 0.06);
  fragment.rgb *= alpha;
  fragment.a = alpha;
}

// Wood as a photo of the offcut shows it, unfolded over the edges; solid wood where it can't show it: where the
// photo ends, and on end grain, or along the fibre if the photo shows end grain.
uniform sampler2D photo;      // colour, and how far it is the wood's
uniform vec3 photo_across;    // place in the plan -> share of the photo's width, of its height
uniform vec3 photo_down;
uniform float photo_end;      // how much end grain the photo shows, as end_grain below

in vec3 in_plan;

void main() {
  // On the face the photo lies as it was taken. Down an upright edge it goes on past the outline, as much as
  // the edge is high, and over the round-over it passes from the one to the other.
  vec3 n = normalize(facing);
  vec2 unfolded = in_plan.xy + in_plan.z * n.xy;
  vec3 at = vec3(unfolded, 1.0);
  vec4 seen = texture(photo, vec2(dot(photo_across, at), dot(photo_down, at)));

  vec3 g = grain_at;
  float pixel = pixel_size(g);
  float fine = fine_layers(g, pixel);
  vec3 n_grain = normalize(grain_facing);
  float end_grain = n_grain.x * n_grain.x;
  float share = seen.a * (1.0 - smoothstep(0.30, 0.80, abs(end_grain - photo_end)));
  vec3 albedo = seen.rgb;
  if (share < 0.998) {
    vec3 solid = solid_wood(g, n_grain, pixel, ring_number(g), pixel / rings.x, fine);
    albedo = mix(solid, albedo, share);
  }
  fragment = finished_wood(albedo, fine, end_grain);
}

//! The same bits everywhere, and how far they are from the truth.

use super::*;

/// Function, arguments, bits, and how many steps of the last place these lie above the correctly rounded
/// value, which was worked with 300 bits by the library mpmath 1.3.0.
const BITS: &[(&str, f64, f64, u64, i64)] = &[
    ("sin", 0.1, 0.0, 0x3fb9_8eae_cb8b_cb2c, 0),
    ("cos", 0.1, 0.0, 0x3fef_d712_f9a8_17c1, 0),
    ("tan", 0.1, 0.0, 0x3fb9_af88_7743_0b80, 0),
    ("sin", 0.5, 0.0, 0x3fde_aee8_744b_05f0, 0),
    ("cos", 0.5, 0.0, 0x3fec_1528_065b_7d50, 0),
    ("tan", 0.5, 0.0, 0x3fe1_7b4f_5bf3_474a, 0),
    ("sin", 1.0, 0.0, 0x3fea_ed54_8f09_0cee, 0),
    ("cos", 1.0, 0.0, 0x3fe1_4a28_0fb5_068c, 0),
    ("tan", 1.0, 0.0, 0x3ff8_eb24_5cbe_e3a6, 0),
    ("sin", 2.5, 0.0, 0x3fe3_26af_0dcf_cab0, -1),
    ("cos", 2.5, 0.0, 0xbfe9_a2f7_ef85_8b7d, 0),
    ("tan", 2.5, 0.0, 0xbfe7_e79b_4e00_bb15, 0),
    ("sin", -3.0, 0.0, 0xbfc2_1038_6db6_d55b, 0),
    ("cos", -3.0, 0.0, 0xbfef_ae04_be85_e5d2, 0),
    ("tan", -3.0, 0.0, 0x3fc2_3ef7_1254_b86f, 0),
    ("sin", 100.0, 0.0, 0xbfe0_3425_b78c_4db8, 0),
    ("cos", 100.0, 0.0, 0x3feb_981d_bf66_5fdf, 0),
    ("tan", 100.0, 0.0, 0xbfe2_ca74_d62b_5d38, 0),
    ("sin", 1000000.0, 0.0, 0xbfd6_664b_2568_d867, 0),
    ("cos", 1000000.0, 0.0, 0x3fed_f9df_9906_d32c, 0),
    ("tan", 1000000.0, 0.0, 0xbfd7_e976_8ab7_34c0, 0),
    ("asin", 0.1, 0.0, 0x3fb9_a492_7603_7884, 0),
    ("acos", 0.1, 0.0, 0x3ff7_87b2_2ce3_f590, 0),
    ("asin", -0.5, 0.0, 0xbfe0_c152_382d_7366, 0),
    ("acos", -0.5, 0.0, 0x4000_c152_382d_7366, 0),
    ("asin", 0.99, 0.0, 0x3ff6_de3c_6f33_d51d, 0),
    ("acos", 0.99, 0.0, 0x3fc2_1df7_2882_bfd8, 0),
    ("atan", 0.1, 0.0, 0x3fb9_83e2_82e2_cc4d, 0),
    ("atan", -1.0, 0.0, 0xbfe9_21fb_5444_2d18, 0),
    ("atan", 50.0, 0.0, 0x3ff8_d012_9acd_6d1c, 0),
    ("atan2", 1.0, 2.0, 0x3fdd_ac67_0561_bb4f, 0),
    ("atan2", -1.0, -2.0, 0xc005_6c6e_7397_f5ae, 0),
    ("atan2", 0.3, -0.1, 0x3ffe_47df_3d0d_d4d1, 0),
    ("atan2", 5.0, 0.0, 0x3ff9_21fb_5444_2d18, 0),
    ("exp", 0.1, 0.0, 0x3ff1_aec7_b35a_00d4, 0),
    ("exp", 1.0, 0.0, 0x4005_bf0a_8b14_576a, 1),
    ("exp", -5.5, 0.0, 0x3f70_bd4a_5aca_7728, 0),
    ("exp", 20.25, 0.0, 0x41c2_90d7_6d19_66a9, 0),
    ("ln", 0.1, 0.0, 0xc002_6bb1_bbb5_5515, 0),
    ("log10", 0.1, 0.0, 0xbff0_0000_0000_0000, 0),
    ("cbrt", 0.1, 0.0, 0x3fdd_b4c7_760b_cff3, 0),
    ("sqrt", 0.1, 0.0, 0x3fd4_3d13_6248_490f, 0),
    ("ln", 2.0, 0.0, 0x3fe6_2e42_fefa_39ef, 0),
    ("log10", 2.0, 0.0, 0x3fd3_4413_509f_79ff, 0),
    ("cbrt", 2.0, 0.0, 0x3ff4_28a2_f98d_728b, 0),
    ("sqrt", 2.0, 0.0, 0x3ff6_a09e_667f_3bcd, 0),
    ("ln", 12345.678, 0.0, 0x4022_d795_5979_1e31, 0),
    ("log10", 12345.678, 0.0, 0x4010_5db6_1808_3a9e, 0),
    ("cbrt", 12345.678, 0.0, 0x4037_1cae_c643_0a07, 0),
    ("sqrt", 12345.678, 0.0, 0x405b_c71c_5eab_9ed8, 0),
    ("pow", 2.0, 0.5, 0x3ff6_a09e_667f_3bcd, 0),
    ("pow", 1.1, 10.0, 0x4004_bffc_0c03_023e, 0),
    ("pow", 0.3, -2.7, 0x4039_cf20_361e_0165, 0),
    ("pow", 60.0, 0.333, 0x400f_46b6_cc36_febc, 0),
    ("pow", 10.0, -3.0, 0x3f50_624d_d2f1_a9fc, 0),
    ("hypot", 3.0, 4.0, 0x4014_0000_0000_0000, 0),
    ("hypot", 1.0, 1.0, 0x3ff6_a09e_667f_3bcd, 0),
    ("hypot", 0.02, 7.5, 0x401e_0006_fd91_07cc, 0),
];
#[test]
fn the_same_bits_everywhere() {
    for (name, x, y, bits, off) in BITS {
        let (x, y) = (*x, *y);
        let got = match *name {
            "sin" => sin(x),
            "cos" => cos(x),
            "tan" => tan(x),
            "asin" => asin(x),
            "acos" => acos(x),
            "atan" => atan(x),
            "atan2" => atan2(x, y),
            "exp" => exp(x),
            "ln" => ln(x),
            "log10" => log10(x),
            "pow" => pow(x, y),
            "hypot" => hypot(x, y),
            "cbrt" => cbrt(x),
            "sqrt" => sqrt(x),
            other => panic!("no function {other}"),
        };
        assert_eq!(got.to_bits(), *bits, "{name}({x}, {y}) = {got}: {:#018x}", got.to_bits());
        assert!(off.abs() <= 1, "{name}({x}, {y}) is off by more than one step");
    }
}
#[test]
fn beyond_their_range() {
    assert!(asin(1.5).is_nan() && acos(-1.5).is_nan() && ln(-1.0).is_nan() && sqrt(-1.0).is_nan());
    assert_eq!((ln(0.0), exp(1000.0), exp(-1000.0)), (f64::NEG_INFINITY, f64::INFINITY, 0.0));
    assert_eq!(hypot(1e200, 1e200).to_bits(), (1e200 * 2.0_f64.sqrt()).to_bits());
}
